"""The same two spars in the ways that people write them, and the boats to try changes on."""

from shopcompanion.profile.parse import read
from shopcompanion.profile.records import Spar, Station
from shopcompanion.spar.along import Joint
from shopcompanion.spar.fitting import Fitting

from ..storage.conftest import DEMOS, demo
from .test_edit_boat import STYLES

YAWL, LUGGER = map(demo, DEMOS)
HEAD = 'format = 1\nboat = {name = "x", units = "in"}\n'
PRESETS = """
[[preset]]
calculator = "drum"
name = "for the mast"
spar = "Main  mast"   # so written

[[preset]]
calculator = "drum"
name = "for any"
"""

# The same two spars, in ways that people write them.
LAYOUTS = {
    "rows": """
# about the mast
[[spar]]   # the first
  name   = "main mast"
  length = "10 ft"   # over all
  stations = [ # heel to head
      { at = "0", width = "3 in" },
      { at = "4 ft" , width = '3-1/2"' },   # at the partners
      { at = "10 ft", width = "2 in" }  # the head
  ]
  fittings = [ { at = 0, kind = "step" }, {at="4 ft",kind="cleat",name="x"} ]
# about the boom
[[spar]]
length = 96   # inches
name = 'boom'
stations = [{at = 0, width = 2.0}, {at = 96.0, width = "1-1/2"}]
joints = [{ at = "5 ft", kind = "scarf" }]
# and that is all
""",
    "tables under rows": """
[[spar]]
name = "main mast"
length = "10 ft"

  [[spar.stations]]
  at = "0"
  width = "3 in"   # the heel

  # where it is thickest
  [[spar.stations]]
  at = "4 ft"
  width = '3-1/2"'

  [[spar.stations]]
  at = "10 ft"
  width = "2 in"

  [[spar.fittings]]
  kind = "step"
  at = 0
  [[spar.fittings]]
  at = "4 ft"
  kind = "cleat"
  name = "x"

# about the boom
[[spar]]
name = "boom"
length = "8 ft"
[[spar.stations]]
at = 0
width = 2
[[spar.stations]]
at = "8 ft"
width = "1-1/2"
[[spar.joints]]
at = "5 ft"
kind = "scarf"
""",
    "others between": """
[[spar]]
name = "main mast"
length = "10 ft"
stations = [{ at = "0", width = "3 in" }, { at = "4 ft", width = '3-1/2"' }, { at = "10 ft", width = "2 in" }]

# between
[shop]
kerf = "1/8 in"

[[spar.fittings]]
at = 0
kind = "step"
[[spar.fittings]]
at = "4 ft"
kind = "cleat"
name = "x"

[[ spar ]]  # [one more]
name = '''boom'''
"length" = \"\"\"8 ft\"\"\"
stations = [
    { "at" = "0", width = "2 in" },
    { at = "8 ft", 'width' = "1-1/2 in" },
]
joints = [
    { at = "5 ft", kind = "scarf" }
  ,
    # no more
]
""",
    "a list of its own": """
spar = [ # both
    { name = "main mast", length = "10 ft", stations = [ { at = "0", width = "3 in" },
        { at = "4 ft", width = '3-1/2"' }, # thickest
        { at = "10 ft", width = "2 in" } ], fittings = [
        { at = 0, kind = "step" }, { at = "4 ft", kind = "cleat", name = "x" }] },
    { name = "boom", length = "8 ft", stations = [{ at = 0, width = 2 }, { at = "8 ft", width = "1-1/2" }], joints = [
      { at = "5 ft", kind = "scarf" }] },  # the other
]
""",
}  # fmt: skip
WRITTEN = {name: HEAD + body + PRESETS for name, body in LAYOUTS.items()}
MAST = Spar(
    name="main mast",
    length=3048.0,
    stations=(
        Station(at=0.0, width=76.2),
        Station(at=1219.2, width=88.9),
        Station(at=3048.0, width=50.8),
    ),
    fittings=(Fitting(at=0.0, kind="step"), Fitting(at=1219.2, kind="cleat", name="x")),
)
BOOM = Spar(
    name="boom",
    length=2438.4,
    stations=(Station(at=0.0, width=50.8), Station(at=2438.4, width=38.1)),
    joints=(Joint(at=1524.0, kind="scarf"),),
)
STARTS = [*map(demo, DEMOS), *(style(text) for text in WRITTEN.values() for style in STYLES.values())]


def spars(text: str) -> tuple[Spar, ...]:
    assert read(text).faults == ()
    return read(text).boat.spars
