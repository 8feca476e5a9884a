"""Interfaces, films, sheets, stacks, spectra, colour and the cavity: the appearance of a design. Pure functions on plain arguments."""
