"""A volume that was taken apart, its two pieces, and who had to do with them."""

from guardbook.records.agent import Agent
from guardbook.records.base import Record
from tests.binding.bench import at, library, made, piece, placing, separation, volume

CITY = library("City Library")
ANNA = made(Agent, "Anna", name="Anna Verrin")
BOOK = volume("Book of tithes", "1510", "2020", shelfmark="T 12", keeper=CITY.id)
STRIP = piece("Strip of a gradual", material="parchment", seenBy=ANNA.id, boxLocation="Drawer 4")
SLIP = piece("Slip under the strip", visibility="workshop", workshopNumber="W 7")
PUT = placing(
    "put", "Strip of a gradual", "Book of tithes", 1, at("0", "10.0"), when="1510", function="sewing-guard"
)
OFF = separation("off", "Strip of a gradual", "Book of tithes", 2, when="2020", undoes=PUT.id, by=[ANNA.id])
SHELF: tuple[Record, ...] = (CITY, ANNA, BOOK, STRIP, SLIP, PUT, OFF)
