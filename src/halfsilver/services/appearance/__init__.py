"""What will be seen of a job, in numbers: its setting, the numbers with their ranges, the findings, and advice by computing alternatives."""
