"""Leads a technician from the truck to a signed handover of a twin-rotor rotary rake."""

__version__ = "0.2.0"
