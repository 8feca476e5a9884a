"""Published rules as pure functions: one rule, one function, one source."""
