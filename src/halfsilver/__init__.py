"""halfsilver: from a job file to every size, finding, drawing and document of an illusion display."""

__version__ = "0.1.0"
