"""Cutting plans for bars and sheets.

``instance`` and ``solution`` are frozen values, ``neutral`` turns them into plain dictionaries and back, ``checker`` judges a plan and
shares no code with whatever made it, ``portfolio`` runs the engines and returns only what the checker passes.

Every length is a whole number of the instance's own unit. y points up, the origin is the stock piece's lower left corner.
"""
