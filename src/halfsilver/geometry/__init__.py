"""Plane geometry of a piece: moulding profiles, volumes of mitred sticks, sight lines through plane sheets. Pure; millimetres, degrees."""
