"""Packing and reading back from the terminal."""

from __future__ import annotations

from pathlib import Path

import pytest

from guardbook.actions.open_catalogue import opened
from guardbook.cli import main
from tests.actions.packing import forms
from tests.api.shelf import STRIP
from tests.cli.conftest import Run


def test_a_packet_is_read_back_into_another_catalogue(run: Run, folder: Path, tmp_path: Path) -> None:
    packet, other = tmp_path / "all.zip", tmp_path / "other"
    assert f"are in {packet}" in run("packet", "--all", "-o", packet).out
    with pytest.raises(SystemExit) as ended:
        main(["import", str(packet), "--who", "Mira", "--data", str(other)])
    assert not ended.value.code
    with opened(folder=folder) as one, opened(folder=other) as two:
        assert forms(one) == forms(two)
    assert run("import", packet, "--json").json["new"] == []


def test_a_packet_of_one_piece_names_what_it_holds(run: Run, tmp_path: Path) -> None:
    ran = run("packet", STRIP.identifier, "-o", tmp_path / "one.zip", "--json")
    assert ran.json["records"] >= 2


def test_a_damaged_packet_is_refused_with_what_is_wrong(run: Run, tmp_path: Path) -> None:
    packet = tmp_path / "all.zip"
    run("packet", "--all", "-o", packet)
    packet.write_bytes(packet.read_bytes()[:-100])
    ran = run("import", packet)
    assert ran.code == 2
    assert "all.zip was refused; nothing of it was kept." in ran.err
    assert "cannot be read" in run("import", tmp_path / "none.zip").err


def test_a_folder_that_is_no_archive_is_refused_by_its_name_and_not_searched(
    run: Run, tmp_path: Path
) -> None:
    run("archive", tmp_path / "shelf" / "archive")
    ran = run("import", tmp_path / "shelf")
    assert ran.code == 2
    assert ran.err.startswith(f"{tmp_path / 'shelf'} is neither an archive")
    assert len(ran.err.splitlines()) == 1
    broken = tmp_path / "shelf" / "archive"
    next(broken.rglob("record.nq")).write_text("nothing")
    assert run("import", broken).err.startswith(f"{broken} was refused")


@pytest.mark.parametrize("words", [["packet", "-o", "x.zip"], ["packet", "--all", "W 1", "-o", "x.zip"]])
def test_what_to_pack_is_said_one_way_or_the_other(run: Run, words: list[str]) -> None:
    assert "or --all" in run(*words).err


def test_an_archive_is_kept_carried_on_and_read_back(run: Run, folder: Path, tmp_path: Path) -> None:
    archive, other = tmp_path / "archive", tmp_path / "other"
    assert "are new" in run("archive", archive).out
    assert run("archive", archive, "--json").json["versions"] == 0
    with pytest.raises(SystemExit) as ended:
        main(["import", str(archive), "--who", "Mira", "--data", str(other)])
    assert not ended.value.code
    with opened(folder=folder) as one, opened(folder=other) as two:
        assert forms(one) == forms(two)


def test_an_archive_for_the_public_is_not_one_for_the_workshop(run: Run, tmp_path: Path) -> None:
    run("archive", tmp_path / "archive", "--public")
    ran = run("archive", tmp_path / "archive")
    assert (ran.code, "the public" in ran.err) == (2, True)
