"""On paper, full size: cards, templates, plans and the boat's book as PDF, SVG and DXF."""
