"""Frozen values: the job, the workshop, the design's bodies, findings and results. No calculation."""
