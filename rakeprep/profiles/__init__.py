"""Machine and tractor data files: from TOML to checked values, every mistake at its place."""

from rakeprep.profiles.files import load_text, sample_machines, sample_tractors
from rakeprep.profiles.loader import read_either, read_profile, read_tractor
from rakeprep.profiles.mistakes import Mistake, ProfileError, Read

__all__ = [
    "Mistake",
    "ProfileError",
    "Read",
    "load_text",
    "read_either",
    "read_profile",
    "read_tractor",
    "sample_machines",
    "sample_tractors",
]
