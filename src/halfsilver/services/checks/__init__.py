"""Engineering checks of a design, each with its working: one module a subject, each with its ``RULES``."""
