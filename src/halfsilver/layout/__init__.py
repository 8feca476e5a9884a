"""From a job and a workshop to a ledger and a design.

``facts`` looks everything up, ``declare`` names entries, the groups (``frames``, ``cavity``, ``seat``, ``sight``) write the chain of
dimensions, ``parts`` gives bodies and masses, and one module per construction says which groups it is made of.
"""
