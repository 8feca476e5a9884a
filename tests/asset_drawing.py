"""A page's own drawing of a piece, from an asset alone: what ``docs/shader-input.md`` says, in NumPy and without the program's optics.

``Eye`` is what a page computes once per eye; ``draw`` is what its fragment shader computes for every pixel.
"""

from __future__ import annotations

import json
from itertools import pairwise

import numpy as np

SIDES = {"left": (-1, 0), "right": (1, 0), "bottom": (0, -1), "top": (0, 1)}
LAMP = np.array((-0.29, 0.70, 0.65))
FLOOR = np.array((0.16, 0.12, 0.09))
GREY = np.array((0.21263901, 0.71516868, 0.07219232))
TYPES = {"float32": "<f4", "float16": "<f2", "int8": "|i1"}


class Asset:
    def __init__(self, header: str, data: bytes) -> None:
        self.head = json.loads(header)
        self.tables = {
            one["name"]: np.frombuffer(data, TYPES[one["type"]], int(np.prod(one["shape"])), one["offset"])
            .reshape(one["shape"])
            .astype(float)
            for one in self.head["tables"]
        }

    def __getitem__(self, name):
        return self.head.get(name)


def linear(table, place):
    """A texture look-up along the first axis, straight between texels, the ends going on."""
    place = np.clip(place, 0, len(table) - 1 - 1e-9)
    low = place.astype(int)
    part = (place - low).reshape(place.shape + (1,) * (table.ndim - 1))
    return table[low] * (1 - part) + table[low + 1] * part


def bilinear(table, v, u):
    v, u = np.clip(v, 0, table.shape[0] - 1 - 1e-9), np.clip(u, 0, table.shape[1] - 1 - 1e-9)
    r, c = v.astype(int), u.astype(int)
    a, b = (v - r)[:, None], (u - c)[:, None]
    t = table.reshape(*table.shape[:2], -1)
    return (t[r, c] * (1 - b) + t[r, c + 1] * b) * (1 - a) + (t[r + 1, c] * (1 - b) + t[r + 1, c + 1] * b) * a


def step(value, edge, soft):
    part = np.clip((value - edge) / (2 * soft) + 0.5, 0, 1)
    return part * part * (3 - 2 * part)


def overlap(low, high, start, end):
    return np.clip((np.minimum(high, end) - np.maximum(low, start)) / (high - low), 0, 1)


class Eye:
    """Everything that hangs on the eye: camera, windows, edges of the lit space."""

    def __init__(self, asset: Asset, eye: dict, width: int, height: int) -> None:
        self.asset, self.eye, self.x, self.y, self.away = asset, eye, eye["x_mm"], eye["y_mm"], eye["distance_mm"]
        self.width, self.height = width, height
        self.camera()
        frame, panes, space, screen = asset["frame"], asset["panes"], asset["space"], asset["screen"]
        profile = frame["profile_mm"]
        tip, front = max(profile), panes[0]["depth_mm"]
        self.outer, self.sight, self.clear, self.edges, self.echoes, self.body = {}, {}, {}, {}, [], {}
        self.glass = front - panes[0]["thickness_mm"] * (len(panes) == 2) if screen else 0.0
        for side in SIDES:
            slopes = [self.slope(side, inset, depth) for inset, depth in profile]
            self.outer[side], self.sight[side] = max(slopes), min(slopes)
            self.clear[side] = min(self.sight[side], self.slope(side, tip[0], 2 * front - tip[1]))
            if space:
                self.edges[side] = self.unfolded(side)
        if screen:
            last = panes[-1]["depth_mm"] - panes[0]["thickness_mm"] * (len(panes) == 2)
            self.screen_air = self.away + last + screen["air_mm"]
            for n in range(len(asset.tables["screen"])):
                self.echoes.append(self.window("picture", n))
            self.body = self.window("outline", 0)

    def camera(self) -> None:
        frame = self.asset["frame"]
        self.turn = np.arctan2(-self.x, self.away)
        self.middle = -self.y / np.hypot(self.x, self.away)
        c, s, wide, high = np.cos(self.turn), np.sin(self.turn), 0.0, 0.0
        for sx in (-1, 1):
            x = (sx * frame["width_mm"] / 2 - self.x) / self.away
            across = (x * c - s) / (c + x * s)
            ups = [(sy * frame["height_mm"] / 2 - self.y) / self.away * (c - across * s) for sy in (-1, 1)]
            wide, high = max(wide, abs(across)), max(high, *(abs(up - self.middle) for up in ups))
        self.half = 1.24 * max(wide, high * self.width / self.height)

    def half_less_eye(self, side: str) -> float:
        x, y = SIDES[side]
        frame = self.asset["frame"]
        return (frame["width_mm"] if x else frame["height_mm"]) / 2 - self.x * x - self.y * y

    def slope(self, side, inset, depth):
        return (self.half_less_eye(side) - inset) / (self.away + depth)

    def behind_glass(self, offset, air, count):
        """Slope of the ray that goes so far aside through air and the first panes: four rounds of Snell's law."""
        slope = offset / air
        for _ in range(4):
            panes = self.asset["panes"][:count]
            slope = offset / (air + sum(p["thickness_mm"] / np.sqrt(p["index"] ** 2 * (1 + slope**2) - slope**2) for p in panes))
        return slope

    def unfolded(self, side):
        """Falling slopes of the edges of the unfolded side wall, (orders x stretches + 1)."""
        space, orders = self.asset["space"], self.asset.tables["walls"].shape[1] if "walls" in self.asset.tables else 12
        entry = self.away + self.asset["panes"][0]["depth_mm"] - space["before_mm"]
        slopes = []
        for m in range(orders):
            for inset, behind in space["points_mm"][:: -1 if m % 2 else 1]:
                depth = m * space["gap_mm"] + (space["gap_mm"] - behind if m % 2 else behind)
                slopes.append(self.behind_glass(self.half_less_eye(side) - inset, entry + depth, 1))
        return np.minimum.accumulate(slopes)

    def window(self, name, n):
        rectangle, found = self.asset["screen"][name], {}
        gap = self.asset["space"]["gap_mm"] if self.asset["space"] else 0.0
        for side, (x, y) in SIDES.items():
            out = rectangle[f"{side}_mm"] * (x + y) - self.x * x - self.y * y
            own = self.behind_glass(out, self.screen_air + 2 * n * gap, len(self.asset["panes"]))
            edge = np.inf
            if self.asset["space"]:
                points = len(self.asset["space"]["points_mm"])
                edge = self.edges[side][min((2 * n + 1) * points, len(self.edges[side])) - 1]
            found[side] = min(own, self.sight[side], edge)
        return found


class Rays:
    """Slopes at the edges of pixels."""

    def __init__(self, left, right, bottom, top) -> None:
        self.left, self.right, self.bottom, self.top = left, right, bottom, top
        self.x, self.y = (left + right) / 2, (bottom + top) / 2

    def taken(self, chosen):
        return Rays(self.left[chosen], self.right[chosen], self.bottom[chosen], self.top[chosen])

    def cover(self, window):
        return overlap(self.left, self.right, -window["left"], window["right"]) * overlap(
            self.bottom, self.top, -window["bottom"], window["top"]
        )

    def outward(self, side):
        ends = {"left": (-self.right, -self.left), "right": (self.left, self.right), "bottom": (-self.top, -self.bottom)}
        return ends.get(side, (self.bottom, self.top))


def rays_of(eye: Eye) -> Rays:
    c, s = np.cos(eye.turn), np.sin(eye.turn)
    u = (np.arange(eye.width + 1) / eye.width * 2 - 1) * eye.half
    middle = (u[1:] + u[:-1]) / 2
    x = (s + u * c) / (c - u * s)
    v = eye.middle + (0.5 - np.arange(eye.height + 1) / eye.height) * (2 * eye.half / eye.width) * eye.height
    tall = np.ones((eye.height, 1))
    return Rays(
        (tall * x[:-1]).ravel(), (tall * x[1:]).ravel(),
        (v[1:, None] / (c - middle * s)).ravel(), (v[:-1, None] / (c - middle * s)).ravel(),
    )  # fmt: skip


def draw(asset: Asset, eye: dict, width: int, height: int, *, screen=1.0, lights=1.0, mix=(1, 0, 0, 0, 0, 0), content=None):
    """Linear sRGB in cd/m2: ``screen`` and ``lights`` are dimmers, ``mix`` the emitters' shares, ``content`` a texture, row 0 on top."""
    at = Eye(asset, eye, width, height)
    rays = rays_of(at)
    outer, sight = rays.cover(at.outer), rays.cover(at.sight)
    found = np.zeros((width * height, 3))
    for cover, light in ((1 - outer, wall), (outer - sight, frame), (sight, inside)):
        chosen = np.flatnonzero(cover > 1e-9)
        options = (screen, lights, np.array(mix, dtype=float), content) if light is inside else ()
        found[chosen] += light(asset, at, rays.taken(chosen), *options) * cover[chosen, None]
    return np.maximum(found, 0).reshape(height, width, 3)


def white_of(asset):
    return np.array(asset["room"]["white"])


def soft_rectangle(x, y, half_x, half_y, soft):
    ends = (np.clip((half - np.abs(v)) / (2 * soft) + 0.5, 0, 1) for v, half in ((x, half_x), (y, half_y)))
    return np.prod([one * one * (3 - 2 * one) for one in ends], axis=0)


def wall(asset, at, rays):
    given, room = asset["frame"], asset["room"]
    off = given["wall_depth_mm"]
    away = at.away + off
    x, y, hx, hy = at.x + rays.x * away, at.y + rays.y * away, given["width_mm"] / 2, given["height_mm"] / 2
    reach = 1.3 * max(hx, hy, 500.0)
    light = 0.50 + 0.58 * np.exp(-((x / (1.5 * reach)) ** 2) - ((y - 0.45 * hy) / (1.25 * reach)) ** 2)
    if off > 0:
        sx, sy = -off * LAMP[0] / LAMP[2], -off * LAMP[1] / LAMP[2]
        for k, ux, uy, soft in ((0.50, 1, 1, 0.42), (0.22, 1.6, 1.8, 1.5), (0.45, 0, 0, 0.9)):
            light = light * (1 - k * soft_rectangle(x - ux * sx, y - uy * sy, hx, hy, soft * off))
    if given["recess_mm"] > 0:
        joint = given["recess_mm"]
        light = light * (1 - 0.9 * soft_rectangle(x, y, hx + joint, hy + joint, 0.5 * (rays.right - rays.left) * away))
    floor = step(-y, room["centre_height_mm"], 4.0)[:, None]
    return (light * room["illuminance_lx"] / np.pi)[:, None] * (np.array(room["paint"]) * (1 - floor) + FLOOR * floor) * white_of(asset)


def frame(asset, at, rays, parts=4):
    """Mean over a few places across each pixel: the nearest stretch of the profile that the ray meets on either side of the mitre."""
    pixel = np.maximum(rays.right - rays.left, rays.top - rays.bottom) * at.away
    means = {}
    for names, values, ends in ((("left", "right"), rays.x, (rays.left, rays.right)), (("bottom", "top"), rays.y, (rays.bottom, rays.top))):
        later = values > (at.sight[names[1]] - at.sight[names[0]]) / 2
        inset, light = np.zeros(len(values)), np.zeros((len(values), 3))
        for side, take, sign in ((names[0], ~later, -1), (names[1], later, 1)):
            low, high = np.sort([sign * ends[0][take], sign * ends[1][take]], axis=0)
            low, high = np.minimum(low, at.outer[side]), np.minimum(high, at.outer[side])
            got = [facet(asset, at, side, low + (k + 0.5) / parts * (high - low)) for k in range(parts)]
            inset[take], light[take] = (np.mean([one[j] for one in got], axis=0) for j in (0, 1))
        means[names[0]] = inset, light
    (ix, lx), (iy, ly) = means["left"], means["bottom"]
    x, y = at.x + rays.x * at.away, at.y + rays.y * at.away
    lx = lx * grain(asset, y + 5000 * (rays.x > 0), ix, pixel)[:, None]
    ly = ly * grain(asset, x + 2500 + 5000 * (rays.y > 0), iy, pixel)[:, None]
    share = np.clip(0.5 + (iy - ix) / (2 * pixel), 0, 1)[:, None]
    line = np.clip((pixel / 2 + 0.4 - np.abs(ix - iy)) / pixel, 0, np.minimum(1, 0.8 / pixel))
    return (ly + share * (lx - ly)) * (1 - 0.5 * line)[:, None]


def facet(asset, at, side, slope):
    given, room, out = asset["frame"], asset["room"], np.array([*SIDES[side], 0.0])
    off, best = at.half_less_eye(side), np.full(len(slope), np.inf)
    inset = np.maximum(at.sight[side] - slope, 0) * at.away + max(given["profile_mm"])[0]
    light = np.zeros((len(slope), 3))
    albedo, lamp = np.array(given["albedo"]), LAMP / np.linalg.norm(LAMP)
    inner = np.maximum(slope, at.sight[side])
    for a, b in pairwise(given["profile_mm"]):
        rise = (a[0] - b[0]) - inner * (b[1] - a[1])
        part = (inner * (at.away + a[1]) - (off - a[0])) / np.where(np.abs(rise) < 1e-9, 1e-9, rise)
        depth = a[1] + part * (b[1] - a[1])
        seen = (part >= -1e-6) & (part <= 1 + 1e-6) & (depth < best) & (np.abs(rise) >= 1e-9)
        normal = (a[1] - b[1]) * out + np.array([0, 0, b[0] - a[0]])
        normal = normal / max(np.linalg.norm(normal), 1e-12)
        towards = np.stack([-inner * out[0], -inner * out[1], np.ones_like(inner)], axis=1)
        towards /= np.linalg.norm(towards, axis=1)[:, None]
        facing = np.clip(towards @ normal, 0, 1)
        mirrored = 2 * facing[:, None] * normal - towards
        sheen = np.exp((6 + 40 * given["gloss"]) * (mirrored @ lamp - 1))
        shine = room["mirrored_cd_m2"] * (1 + 0.75 * mirrored[:, 1] + (2 + 10 * given["gloss"]) * sheen)
        lit = 0.42 * (0.55 + 0.45 * normal[2]) * (1 + 0.3 * normal[1]) + 0.58 * max(0.0, normal @ lamp) / lamp[2]
        matt = albedo * lit * room["illuminance_lx"] / np.pi
        gloss = given["gloss"] * (0.04 + 0.96 * (1 - facing) ** 5) * (1 - given["metal"]) * shine
        colour = matt * (1 - given["metal"]) + gloss[:, None] + given["metal"] * shine[:, None] * albedo
        best = np.where(seen, depth, best)
        light = np.where(seen[:, None], colour * white_of(asset), light)
        inset = np.where(seen & (slope >= at.sight[side]), a[0] + part * (b[0] - a[0]), inset)
    return inset, light


def grain(asset, along, across, pixel):
    strength = asset["frame"]["grain"]
    if not strength:
        return np.ones_like(along)
    tile = asset.tables["grain"] / 127
    size = len(tile)
    u, v = along / 260 * 16 % size, across / 3.6 * 4 % size
    value = bilinear(np.pad(tile, ((0, 1), (0, 1)), mode="wrap"), v, u)[:, 0]
    return 1 + strength * np.minimum(1, 2.5 * 3.6 / pixel) * value


def degrees(asset, slope):
    return np.degrees(np.arctan(slope)) / asset["angle_step_deg"]


def inside(asset, at, rays, screen, lights, mix, content):
    room, given = asset["room"], asset["screen"]
    glass = linear(asset.tables["glass"], degrees(asset, np.hypot(rays.x, rays.y)))
    mirror, passed = glass[:, :3], glass[:, 3]
    if given and not asset["space"]:
        mirror = mirror - ((1 - rays.cover(at.body)) * passed**2 * given["face_mirror"])[:, None]
    lip = np.array(asset["frame"]["albedo"]) * (0.35 * room["illuminance_lx"] / np.pi)
    clear = np.minimum(rays.cover(at.clear) / np.maximum(rays.cover(at.sight), 1e-9), 1)[:, None]
    found = (lip + clear * (room_seen(asset, at, rays) - lip)) * mirror
    if given:
        found += behind(asset, at, rays, passed, lights, mix)
        if screen:
            found += screen * picture(asset, at, rays, content)
    if lights and asset["strip"]:
        found += lights * asset["strip"]["luminance_cd_m2"] * space(asset, at, rays, mix)
    return found


def room_seen(asset, at, rays):
    eye, table = at.eye, asset.tables[f"room {at.eye['id']}"]
    away, edge = at.away + eye["facing_mm"] + 2 * asset["panes"][0]["depth_mm"], eye["room"]
    rows, columns = table.shape[:2]
    u = (at.x + rays.x * away - edge["left_mm"]) / (edge["right_mm"] - edge["left_mm"]) * columns - 0.5
    v = (at.y + rays.y * away - edge["bottom_mm"]) / (edge["top_mm"] - edge["bottom_mm"]) * rows - 0.5
    return bilinear(table, v, u)


def screen_depth(asset, at, rays):
    square = rays.x**2 + rays.y**2
    return at.screen_air + sum(p["thickness_mm"] / np.sqrt(p["index"] ** 2 * (1 + square) - square) for p in asset["panes"])


def picture(asset, at, rays, content):
    given, table = asset["screen"], asset.tables["screen"]
    depth, gap = screen_depth(asset, at, rays), asset["space"]["gap_mm"] if asset["space"] else 0.0
    place, square = degrees(asset, np.hypot(rays.x, rays.y)), rays.x**2 + rays.y**2
    share = np.full_like(square, 0.5)
    if given.get("axis_deg") is not None:
        axis = np.radians(given["axis_deg"])
        share = np.where(square > 1e-12, (rays.x * np.cos(axis) + rays.y * np.sin(axis)) ** 2 / np.maximum(square, 1e-12), 0.5)
    black, lit, found = given["black_cd_m2"] / given["white_cd_m2"], given["picture"], np.zeros((len(square), 3))
    for n, window in enumerate(at.echoes):
        away = depth + 2 * n * gap
        u = (at.x + rays.x * away - lit["left_mm"]) / (lit["right_mm"] - lit["left_mm"]) * content.shape[1] - 0.5
        v = (lit["top_mm"] - at.y - rays.y * away) / (lit["top_mm"] - lit["bottom_mm"]) * content.shape[0] - 0.5
        s, p = (linear(table[n, k], place) for k in (0, 1))
        shown = black + (1 - black) * bilinear(content, v, u)
        found += shown * (s + share[:, None] * (p - s)) * rays.cover(window)[:, None]
    return (found * given["white_cd_m2"] * np.array(given["shares"])) @ np.array(given["colours"])


def behind(asset, at, rays, passed, lights, mix):
    given, room, size = asset["screen"], asset["room"], asset["frame"]
    diffuse = given["beside_diffuse"] + rays.cover(at.body) * (given["face_diffuse"] - given["beside_diffuse"])
    found = (diffuse / np.pi * passed**2 * room["illuminance_lx"])[:, None] * white_of(asset)
    if lights and "stray_up" in asset.tables:
        depth, lux = screen_depth(asset, at, rays), 0
        for value, name, full in ((at.x + rays.x * depth, "across", size["width_mm"]), (at.y + rays.y * depth, "up", size["height_mm"])):
            table = asset.tables[f"stray_{name}"]
            lux = lux + linear(table, (np.arcsin(np.clip(2 * value / full, -1, 1)) / np.pi + 0.5) * (len(table) - 1))
        tint = mix @ asset.tables["walls"][:, 0, 0]
        light = lights * asset["strip"]["luminance_cd_m2"] * passed * diffuse / np.pi * lux
        found += light[:, None] * tint / (asset.tables["walls"][0, 0, 0] @ GREY)
    return found


def space(asset, at, rays, mix):
    """Light of the side walls over the strip's luminance; at a corner the nearer wall is seen."""
    strip = asset["strip"]
    reach = {side: at.half_less_eye(side) - strip["inset_mm"] for side in SIDES}
    over = []
    for slope, low, high, names in ((rays.x, rays.left, rays.right, ("left", "right")), (rays.y, rays.bottom, rays.top, ("bottom", "top"))):
        far = np.where(slope < 0, *(reach[name] for name in names))
        over.append((np.abs(slope) / far, (high - low) / 2 / far))
    upright = np.clip(0.5 + (over[0][0] - over[1][0]) / (2 * np.maximum(over[0][1] + over[1][1], 1e-12)), 0, 1)
    found = np.zeros((len(rays.x), 3))
    walls = np.einsum("e,emac->mac", mix, asset.tables["walls"])
    for side, (across, _) in SIDES.items():
        low, high = rays.outward(side)
        share = upright if across else 1 - upright
        seen = np.flatnonzero((share > 0) & (high > max(at.edges[side][-1], 0)))
        found[seen] += side_wall(asset, at, rays.taken(seen), side, reach[side], walls) * share[seen, None]
    return found


def side_wall(asset, at, rays, side, reach, walls):
    given, strip, upright = asset["space"], asset["strip"], bool(SIDES[side][0])
    low, high = rays.outward(side)
    along, foot = (rays.y, rays.top - rays.bottom) if upright else (rays.x, rays.right - rays.left)
    eye, half_lit = (at.y, strip["half_up_mm"]) if upright else (at.x, strip["half_across_mm"])
    wood = asset.tables["wood_upright" if upright else "wood_level"]
    points, edges, found = len(given["points_mm"]), at.edges[side], np.zeros((len(low), 3))
    for m, table in enumerate(walls):
        for k in range(points - 1):
            outer, inner = edges[m * points + k], edges[m * points + k + 1]
            hit = np.flatnonzero((outer > low) & (inner < high)) if outer > max(inner, 0) else ()
            if not len(hit):
                continue
            inner = max(inner, 0.0)
            start, end = np.maximum(low[hit], inner), np.minimum(high[hit], outer)
            cover = (end - start) / (high - low)[hit]
            colour = linear(table, degrees(asset, np.hypot((inner + outer) / 2, along[hit])))
            stretch = points - 2 - k if m % 2 else k
            if given["strip"][stretch]:
                away = reach / ((start + end) / 2)
                spread = away**2 / reach * (end - start) / np.sqrt(12) * np.abs(along[hit])
                value = diodes(strip, eye + along[hit] * away, foot[hit] * away, spread, half_lit)
            else:
                place = (eye + along[hit] * reach / ((inner + outer) / 2)) / asset["place_step_mm"]
                value = linear(wood[stretch], place + (wood.shape[1] - 1) / 2)
            found[hit] += colour * (value * cover)[:, None]
    return found


def diodes(strip, place, foot, spread, half_lit):
    turn, value = 2 * np.pi / strip["pitch_mm"], 1.0
    for k in (1, 2, 3):
        depth = 2 * np.exp(-(strip["bell_mm"] ** 2 + spread**2) * (k * turn) ** 2 / 2)
        value = value + depth * np.sinc(k * foot / strip["pitch_mm"]) * np.cos(k * turn * (place + strip["pitch_mm"] / 2))
    return np.maximum(value, 0) * np.clip((half_lit - np.abs(place)) / (foot + 2 * spread) + 0.5, 0, 1)
