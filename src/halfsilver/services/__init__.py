"""The whole chain, the search for what a job leaves open, findings, packs: what the faces may ask."""
