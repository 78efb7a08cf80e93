"""Templates at full size, a module for each kind: pure geometry, with no word of sheets, files or printers."""
