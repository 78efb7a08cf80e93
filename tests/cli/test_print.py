"""The commands that write for print: the file, and what is refused."""

import errno
import os
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.paper.reading import sheets

pytestmark = pytest.mark.usefixtures("searched_once")
PROFILE = Path(__file__).parents[2] / "profiles" / "saltmarsh-yawl.toml"
MIZZEN = ["card", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--date", "2026-05-02"]


@pytest.fixture
def run(call, tmp_path):
    return lambda *argv: call(*argv, "--profiles", str(tmp_path / "boats"))


def test_a_card_as_pdf(run, tmp_path):
    path = tmp_path / "mizzen.pdf"
    said = run(*MIZZEN, "--pdf", str(path))
    assert (said.status, said.err) == (0, "")
    pages = sheets(path.read_bytes())
    assert said.out == f"{path}: {len(pages)} pages\n"
    assert {(round(page.width, 1), round(page.height, 1)) for page in pages} == {(215.9, 279.4)}  # inches: letter
    first = path.read_bytes()
    assert run(*MIZZEN, "--pdf", str(path)).status == 0
    assert path.read_bytes() == first


def test_the_sheet_may_be_another(run, tmp_path):
    path = tmp_path / "mizzen.pdf"
    assert run(*MIZZEN, "--pdf", str(path), "--paper", "a4").status == 0
    assert round(sheets(path.read_bytes())[0].width, 1) == 210.0


def test_the_cards_of_a_boat_in_one_file_behind_a_list(run, tmp_path):
    path = tmp_path / "all.pdf"
    assert run("card", "--boat", "fjord-lugger", "--pdf", str(path)).status == 0
    pages = sheets(path.read_bytes())
    heads = [page.text().split(" page ")[0] for page in pages]
    spars = re.findall(
        r'^\[\[spar\]\]\nname = "(.*)"', PROFILE.with_stem("fjord-lugger").read_text(encoding="utf-8"), re.M
    )
    assert len(spars) > 2
    assert list(dict.fromkeys(heads)) == [f"Fjord lugger · {name}" for name in ("job cards", *spars)]


def test_what_is_left_out_stands_on_top_and_the_status_says_so(run, tmp_path):
    path = tmp_path / "boats" / "faulty.toml"
    path.parent.mkdir()
    text = PROFILE.read_text(encoding="utf-8")
    path.write_text(text.replace('species = "Spruce, Sitka"', 'species = "Spruce, Stika"', 1), encoding="utf-8")
    card = ["card", "--boat", "faulty", "--spar", "main mast"]
    said = run(*card, "--pdf", str(tmp_path / "card.pdf"))
    assert said.status == 3
    assert "LEFT OUT, because the profile has a fault there" in sheets((tmp_path / "card.pdf").read_bytes())[0].text()


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (["--paper", "a4"], "--paper: is for a PDF"),
        (["--pdf", "x.pdf", "--paper", "a5"], "--paper: 'a5' is none of a4, letter"),
        (["--pdf", "x.pdf", "--ascii"], "--ascii: is not for a PDF"),
        (["--pdf"], "--pdf needs a value"),
    ],
)
def test_what_is_refused(run, argv, told, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    said = run(*MIZZEN, *argv)
    assert (said.status, said.out) == (2, "")
    assert said.err.startswith(f"shopcompanion: {told}")
    assert said.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_file_of_another_kind_is_not_replaced(run, tmp_path):
    path = tmp_path / "notes.txt"
    path.write_text("mine")
    said = run(*MIZZEN, "--pdf", str(path))
    assert (said.status, said.out) == (2, "")
    assert said.err == f"shopcompanion: --pdf: {path} exists already and is another kind of file: give another name\n"
    assert path.read_text() == "mine"


@pytest.mark.parametrize("where", ["gone/x.pdf", ""])
def test_a_place_that_cannot_be_written(run, tmp_path, where):
    said = run(*MIZZEN, "--pdf", str(tmp_path / where))
    assert (said.status, said.out, said.err.count("\n")) == (1, "", 1)
    assert list(tmp_path.rglob("*")) == []


def test_a_full_disk_leaves_nothing_behind_and_the_old_file_as_it_was(run, tmp_path, monkeypatch):
    path = tmp_path / "mizzen.pdf"
    path.write_bytes(b"%PDF-old")

    def full(handle):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("shopcompanion.storage.atomic.os.fsync", full)
    said = run(*MIZZEN, "--pdf", str(path))
    assert (said.status, said.out) == (1, "")
    assert said.err == f"shopcompanion: could not write {path}: the disk is full\n"
    assert [one.name for one in tmp_path.iterdir()] == ["mizzen.pdf"]
    assert path.read_bytes() == b"%PDF-old"


# --- templates --------------------------------------------------------------------------------------------------------

TEMPLATES = ["templates", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast"]


def test_templates_are_listed_without_a_file(run):
    said = run(*TEMPLATES, "--only", "gauges, spar-gauge")
    assert (said.status, said.err) == (0, "")
    assert "gauge-1524-round  Gauge, round. mizzen mast, at 5 ft: 2-7/16 in bare." in said.out
    assert "spar-gauge " in said.out
    assert "strip-" not in said.out


def test_templates_on_sheets(run, tmp_path):
    path = tmp_path / "mizzen.pdf"
    said = run(*TEMPLATES, "--pdf", str(path), "--measured", "98.7 mm", "--date", "2026-05-02")
    assert (said.status, said.err) == (0, "")
    assert "Drawn 101.32 % across and 101.32 % along" in sheets(path.read_bytes())[0].text()


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_templates_as_drawings(run, tmp_path, kind):
    folder = tmp_path / "drawings"
    said = run(*TEMPLATES, "--only", "flats,tips", f"--{kind}", str(folder))
    assert (said.status, said.out, said.err) == (0, f"{folder}: 2 drawings\n", "")
    assert sorted(one.name for one in folder.iterdir()) == [f"flat-e-1524.{kind}", f"tip-head.{kind}"]
    assert run(*TEMPLATES, "--only", "flats,tips", f"--{kind}", str(folder)).status == 0


def test_no_drawing_takes_the_place_of_something_else(run, tmp_path):
    (tmp_path / "tip-head.svg").write_text("mine")
    said = run(*TEMPLATES, "--svg", str(tmp_path))
    assert (said.status, said.out) == (2, "")
    assert [one.name for one in tmp_path.iterdir()] == ["tip-head.svg"]
    assert (tmp_path / "tip-head.svg").read_text() == "mine"


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (["--only", "gauge"], "--only: 'gauge' is none of staves, strips, spar-gauge"),
        (["--only", "jaws"], "the mizzen mast asks for no template of jaws"),
        (["--measured", "98 mm"], "--measured: is for sheets"),
        (["--pdf", "x.pdf", "--measured", "80 mm"], "--measured: '80 mm' is too far from the bar's 100 mm"),
        (["--pdf", "x.pdf", "--measured", "a bit"], "--measured: "),
        (["--pdf", "x.pdf", "--svg", "y"], "give --pdf or --svg, not both"),
        (["--paper", "a4"], "--paper: is for sheets"),
    ],
)
def test_what_templates_refuse(run, argv, told, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    said = run(*TEMPLATES, *argv)
    assert (said.status, said.out) == (2, "")
    assert said.err.startswith(f"shopcompanion: {told}")
    assert said.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_templates_say_what_is_left_out(run, tmp_path):
    path = tmp_path / "boats" / "faulty.toml"
    path.parent.mkdir()
    text = PROFILE.read_text(encoding="utf-8")
    path.write_text(text.replace('kind = "hounds"', 'kind = "hownds"', 1), encoding="utf-8")
    wanted = ["templates", "--boat", "faulty", "--spar", "main mast", "--only", "flats"]
    assert run(*wanted).status == 3
    assert "left out for a fault" in run(*wanted).out
    assert run(*wanted, "--pdf", str(tmp_path / "flats.pdf")).status == 3
    assert "left out for a fault" in sheets((tmp_path / "flats.pdf").read_bytes())[0].text()


# --- the timber and the book ------------------------------------------------------------------------------------------


def test_the_timber_as_pdf(run, tmp_path):
    path = tmp_path / "timber.pdf"
    said = run("stock", "--boat", "fjord-lugger", "--seconds", "1", "--pdf", str(path), "--date", "2026-05-02")
    assert (said.status, said.err) == (0, "")
    assert sheets(path.read_bytes())[0].text().startswith("Fjord lugger · timber page 1 of")


def test_what_to_buy_as_pdf(run, tmp_path):
    path = tmp_path / "buy.pdf"
    said = run("supplies", "--boat", "fjord-lugger", "--seconds", "0.1", "--pdf", str(path), "--date", "2026-05-02")
    assert (said.status, said.err) == (0, "")
    assert sheets(path.read_bytes())[0].text().startswith("Fjord lugger · to buy page 1 of")


def test_the_book(run, tmp_path):
    path = tmp_path / "book.pdf"
    said = run("book", "--boat", "fjord-lugger", "--seconds", "0.1", "--pdf", str(path), "--date", "2026-05-02")
    assert (said.status, said.err) == (0, "")
    assert re.fullmatch(rf"{path}: [0-9]+ pages\n", said.out)
    assert path.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (["book", "--boat", "fjord-lugger"], "--pdf: is wanted"),
        (["book", "--pdf", "x.pdf"], "--boat: is wanted"),
        (
            ["book", "--boat", "fjord-lugger", "--pdf", "x.pdf", "--seconds", "never"],
            "--seconds: 'never' is not a number",
        ),
        (["stock", "--boat", "fjord-lugger", "--pdf", "x.pdf", "--json"], "--json: is not for a PDF"),
        (["stock", "--boat", "fjord-lugger", "--paper", "a4"], "--paper: is for a PDF"),
    ],
)
def test_what_timber_and_book_refuse(run, argv, told, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    said = run(*argv)
    assert (said.status, said.out) == (2, "")
    assert said.err.startswith(f"shopcompanion: {told}")
    assert list(tmp_path.iterdir()) == []


def test_the_drawings_of_a_card_are_files_of_svg_to_scale(run, tmp_path: Path) -> None:
    """The section's width in its blank of 3 in: 2-3/4 in, as the scale in its title has it (by hand)."""
    folder = tmp_path / "drawn"
    said = run("card", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--svg", str(folder))
    assert (said.status, said.err) == (0, "")
    assert sorted(one.name for one in folder.iterdir()) == ["mizzen-mast-section.svg", "mizzen-mast-views.svg"]
    root = ElementTree.parse(folder / "mizzen-mast-section.svg").getroot()
    title = root.findtext("{http://www.w3.org/2000/svg}title") or ""
    assert title.startswith("mizzen mast: 2-3/4 in at 2 ft, in its blank of 3 in; ")
    assert root.get("width") == "120mm"
    assert {"A", "B", "C", "D"} <= {one.text for one in root.iter("{http://www.w3.org/2000/svg}text")}
    again = (folder / "mizzen-mast-views.svg").read_bytes()
    assert run("card", "--boat", "saltmarsh-yawl", "--spar", "mizzen mast", "--svg", str(folder)).status == 0
    assert (folder / "mizzen-mast-views.svg").read_bytes() == again


def test_every_card_of_a_boat_has_its_drawings_and_nothing_of_anybody_else_is_written_over(run, tmp_path: Path) -> None:
    assert run("card", "--boat", "fjord-lugger", "--svg", str(tmp_path)).status == 0
    assert len(list(tmp_path.iterdir())) == 8
    (tmp_path / "mast-section.svg").write_text("mine")
    said = run("card", "--boat", "fjord-lugger", "--svg", str(tmp_path))
    assert (said.status, said.out) == (2, "")
    assert "exists already and is another kind of file" in said.err
    assert run("card", "--boat", "fjord-lugger", "--svg", str(tmp_path), "--pdf", "x.pdf").status == 2
