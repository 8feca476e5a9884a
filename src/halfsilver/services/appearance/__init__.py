"""What will be seen of a job, in numbers: setting, numbers with their ranges, findings, and advice by computing alternatives."""
