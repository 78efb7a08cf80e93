"""Templates as DXF, in millimetres, for a laser: a layer for every pen. The only module that knows ezdxf."""

from io import StringIO
from math import isclose

from ..errors import CompanionError
from .faces import CAPITAL, POINT
from .marks import ArcMark, Pen, TextMark
from .templates.template import Template

LAYERS: dict[Pen, str] = {"cut": "CUT", "scribe": "SCRIBE", "centre": "CENTRE"}  # what else is drawn is a note
NOTES = "NOTES"
_LINES = {"CUT": "CONTINUOUS", "SCRIBE": "DASHED", "CENTRE": "CENTER", NOTES: "CONTINUOUS"}


def dxf(template: Template) -> str:
    """The template at full size, y upwards, with its words below it. CompanionError where ezdxf is not installed."""
    try:
        import ezdxf
    except ImportError:
        raise CompanionError("for DXF the package ezdxf is needed: pip install ezdxf") from None
    ezdxf.options.write_fixed_meta_data_for_testing = True  # type: ignore[attr-defined]  # the same bytes every time
    made = ezdxf.new("R2010", setup=["linetypes"], units=ezdxf.units.MM)  # type: ignore[attr-defined]
    for name, kind in _LINES.items():
        made.layers.add(name, linetype=kind)
    space = made.modelspace()
    for mark in template.marks:
        if isinstance(mark, TextMark):
            where = {"layer": NOTES, "height": mark.size * POINT * CAPITAL, "rotation": mark.turn}
            align = {"left": "LEFT", "centre": "CENTER", "right": "RIGHT"}[mark.align]
            text = space.add_text(mark.text, dxfattribs=where)
            text.set_placement((mark.x, mark.y), align=ezdxf.enums.TextEntityAlignment[align])
            continue
        layer = {"layer": LAYERS.get(mark.pen, NOTES)}
        if not isinstance(mark, ArcMark):
            space.add_lwpolyline(mark.points, close=mark.closed, dxfattribs=layer)
        elif not isclose(mark.radius_x, mark.radius_y, rel_tol=1e-12):
            _ellipse(space, mark, layer)
        elif mark.end - mark.start >= 360:
            space.add_circle((mark.x, mark.y), mark.radius_x, dxfattribs=layer)
        else:
            space.add_arc((mark.x, mark.y), mark.radius_x, mark.start, mark.end, dxfattribs=layer)
    left, low, _, _ = template.box
    for number, line in enumerate((template.title, *template.says), 1):
        high = 8.0 * POINT * CAPITAL
        space.add_text(line, dxfattribs={"layer": NOTES, "height": high}).set_placement(
            (left, low - 2.5 * high * number)
        )
    kept = StringIO()
    made.write(kept)
    return kept.getvalue()


def _ellipse(space: "ezdxf.layouts.Modelspace", arc: ArcMark, layer: dict[str, str]) -> None:  # type: ignore[name-defined]  # noqa: F821
    """An upright ellipse by its longer half axis, from which its parameters count."""
    from math import radians

    if arc.radius_x >= arc.radius_y:
        axis, ratio, off = (arc.radius_x, 0.0), arc.radius_y / arc.radius_x, 0.0
    else:
        axis, ratio, off = (0.0, arc.radius_y), arc.radius_x / arc.radius_y, -90.0
    start, end = radians(arc.start + off), radians(arc.end + off)
    space.add_ellipse((arc.x, arc.y), axis, ratio, start, end, dxfattribs=layer)
