"""Small pictures with all that cameras and programs write into them, made by software that others wrote."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo
from PIL.TiffImagePlugin import ImageFileDirectory_v2

# what nobody is to find: who, where, with which camera
SECRETS = ("Brun Okell", "SN-4711-0815", "Safe behind the mill", "Photographed in the vault")
MAKER, MODEL, ARTIST, ORIENTATION, SERIAL, GPS = 0x010F, 0x0110, 0x013B, 0x0112, 0xA431, 0x8825
XMP = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    f"<rdf:Description>{SECRETS[2]}</rdf:Description></rdf:RDF></x:xmpmeta>"
).encode()
IPTC = (
    b"Photoshop 3.0\x008BIM\x04\x04\x00\x00" + struct.pack(">I", 16) + b"\x1c\x02\x50\x00\x0aBrun Okell\x00"
)
PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def picture(mode: str = "RGB") -> Image.Image:
    """Give a picture of which no two corners are alike."""
    made = Image.new("RGB", (24, 16), "white")
    for x in range(24):
        for y in range(16):
            made.putpixel((x, y), (x * 10, y * 15, (x * y) % 256))
    return made.convert(mode)


def exif(orientation: int | None = 6) -> Image.Exif:
    """Give Exif with a name, a serial number, a place and (unless None) which way up."""
    told = Image.Exif()
    told[MAKER], told[MODEL], told[ARTIST] = "Camera obscura", "Mark 2", SECRETS[0]
    if orientation is not None:
        told[ORIENTATION] = orientation
    told.get_ifd(0x8769)[SERIAL] = SECRETS[1]
    told.get_ifd(GPS)[1], told.get_ifd(GPS)[2] = "N", (41.0, 23.0, 12.5)
    return told


def jpeg(orientation: int | None = 6, **more: Any) -> bytes:
    """Give a JPEG with Exif, XMP, IPTC, a comment, a colour profile and something after its end."""
    output = io.BytesIO()
    words: dict[str, Any] = {"exif": exif(orientation), "xmp": XMP, "icc_profile": PROFILE, "quality": 95}
    picture().save(output, "JPEG", comment=SECRETS[3], **{**words, **more})
    data = output.getvalue()
    iptc = struct.pack(">BBH", 0xFF, 0xED, len(IPTC) + 2) + IPTC
    return data[:2] + iptc + data[2:] + b"trailer: " + SECRETS[0].encode()


def png(orientation: int | None = 6) -> bytes:
    """Give a PNG with texts of all three kinds, Exif, XMP, a time and a chunk nobody knows."""
    texts = PngInfo()
    texts.add_text("Author", SECRETS[0])
    texts.add_text("Comment", SECRETS[3], zip=True)
    texts.add_itxt("XML:com.adobe.xmp", XMP.decode())
    output = io.BytesIO()
    picture().save(output, "PNG", pnginfo=texts, exif=exif(orientation), icc_profile=PROFILE, dpi=(300, 300))
    data = output.getvalue()
    body = b"prVt" + SECRETS[1].encode()
    own = struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    return data[:-12] + own + data[-12:]


def webp(orientation: int | None = 6) -> bytes:
    """Give a WebP with Exif and XMP."""
    output = io.BytesIO()
    words: dict[str, Any] = {"exif": exif(orientation), "xmp": XMP, "icc_profile": PROFILE}
    picture().save(output, "WEBP", lossless=True, **words)
    return output.getvalue()


def tiff(orientation: int | None = 6, *, compression: str = "tiff_lzw", pages: int = 1) -> bytes:
    """Give a TIFF with a name, a description, Exif, a place and XMP."""
    told = ImageFileDirectory_v2()
    told[ARTIST], told[270], told[700] = SECRETS[0], SECRETS[3], XMP
    if orientation is not None:
        told[ORIENTATION] = orientation
    output = io.BytesIO()
    words: dict[str, Any] = {"tiffinfo": told, "compression": compression, "icc_profile": PROFILE}
    more = {"save_all": True, "append_images": [picture("L")] * (pages - 1)} if pages > 1 else {}
    picture().save(output, "TIFF", **words, **more)
    return output.getvalue() + SECRETS[1].encode()
