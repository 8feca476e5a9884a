"""Text becomes a number once, here, and back: lengths, angles, masses, money, dates, with exact factors.

Readers take what people write and raise :class:`halfsilver.errors.QuantityError`, with a stable code, for everything else; the caller
adds the place. Inner units: length mm, angle deg, mass kg, power W, luminance cd/m2, illuminance lx, temperature degC, colour
temperature K, percent and share 0 to 1, area m2, density kg/m3, voltage V, current A, linear power W/m, pitch 1/m, duration s.
"""
