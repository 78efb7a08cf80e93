"""A formula of the working as Python: its letters, and the functions it may use."""

import math

PYTHON = str.maketrans({"·": "*", "−": "-", "π": "pi", "√": "sqrt", "²": "**2", "³": "**3", "⁴": "**4"})
KNOWN = {name: getattr(math, name) for name in ("pi", "tan", "cos", "sin", "atan", "asin", "acos", "sqrt", "exp")}
KNOWN |= {"rad": math.radians, "min": min, "max": max, "abs": abs, "ceil": math.ceil, "floor": math.floor}
KNOWN |= {"ln": math.log, "__builtins__": {}}
