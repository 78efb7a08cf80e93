"""The legend of the spar across the screen: everything on the spar, in order, by the key and by the finder."""

from shopcompanion import lengths
from shopcompanion.lengths import show
from shopcompanion.storage.store import Places

from .conftest import LUGGER, Opener, own_copy, spar_of


async def test_everything_on_the_spar_is_named_heel_to_head(desk: Opener) -> None:
    async with desk(size=(120, 60)) as it:
        await it.press("f5")
        spar, rule = spar_of(it.session), it.session.rule
        lines = [line.strip() for line in it.lines]
        places = [line for line in lines if line[:1] in ("◇", "▾")]
        wanted = sorted((fitting.at, fitting.name or fitting.kind) for fitting in (*spar.fittings,))
        hinges = [(joint.at, joint.kind) for joint in spar.joints]
        assert len(places) == len(wanted) + len(hinges)
        for at, name in wanted:
            assert any(line.startswith("▾") and show(at, rule) in line and name in line for line in places), name
        assert [line for line in lines if line.startswith("◇")] == ["◇  5 ft            joint, hinge"]
        read = [float(lengths.read(line[1:19])) for line in places]
        assert read == sorted(read)
        assert "0 in to 14 in" in it.text  # the square heel of its profile
        assert "14 in to 11 ft 3 in" in it.text


async def test_a_spar_with_nothing_on_it_and_no_spar(desk: Opener) -> None:
    async with desk(LUGGER, spar="boom", size=(120, 60)) as it:
        await it.find("legend")
        assert "oval" in it.text
        await it.press("escape")
        assert it.app.screen is it.app.bench
    async with desk(None) as it:
        await it.press("ctrl+left")
        assert it.app.screen is it.app.bench
        assert it.told == ["no spar is chosen; ^L chooses one"]


async def test_a_run_out_is_named_with_both_its_sections(desk: Opener, home: Places) -> None:
    text = (home.examples / "saltmarsh-yawl.toml").read_text(encoding="utf-8")
    assert text.count('square_to = "14 in"') == 1
    own_copy(home, text=text.replace('square_to = "14 in"', 'square_to = "14 in"\nsquare_run_out = "6 in"'))
    async with desk(size=(120, 60)) as it:
        await it.press("f5")
        line = next(line for line in it.lines if "runs out" in line)
        assert line.split() == ["14", "in", "to", "20", "in", "runs", "out,", "square", "into", "round"]
