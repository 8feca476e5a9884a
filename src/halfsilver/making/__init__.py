"""Parts to cut, cut plans, build steps."""
