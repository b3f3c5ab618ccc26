"""The machine from above as plain shapes in millimetres, drawn to scale from its profile."""
