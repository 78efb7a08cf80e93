"""What the bench says where a spar is not round: square parts are not lined out, an oval is reckoned one way."""

from .conftest import FOOT, LUGGER, Opener


async def test_where_a_spar_stays_square_it_is_said(desk: Opener) -> None:
    async with desk(spar="main mast", at="6 in") as it:
        assert "stays square here, from the heel to 2 ft 4 in" in it.said("#cautions")
        it.session.go_to(2.5 * FOOT)
        it.app.bench.redraw()
        said = it.said("#cautions")
        assert "the square ends at 2 ft 4 in, the round begins at 2 ft 7 in" in said
        it.session.go_to(5 * FOOT)
        it.app.bench.redraw()
        assert "stays square" not in it.said("#cautions")
    async with desk(spar="bowsprit bitt", at=None) as it:
        assert "This spar stays square" in it.said("#cautions")


async def test_an_oval_s_width_is_not_taken_for_all_of_it(desk: Opener) -> None:
    async with desk(LUGGER, spar="boom", at=None) as it:
        assert "oval" not in it.said("#cautions")
        await it.find("taper")
        assert "the numbers are of its width" in it.said("#cautions")
        await it.find("drum")
        assert "of its width" not in it.said("#cautions")
        assert it.app.bench.view.shown.result.inputs.widest == max(
            station.depth for station in it.session.spar.stations
        )
