"""The window. Nothing outside this package imports Qt, and pages hold no data."""
