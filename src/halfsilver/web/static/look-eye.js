// What hangs on the eye alone: camera, windows, edges of the lit space, and what shows of the frame. See docs/shader-input.md.
export const SIDES = [["left", -1, 0], ["right", 1, 0], ["bottom", 0, -1], ["top", 0, 1]];
export const SAMPLES = 512; // places across one side of the frame
const ROUND_THE_PIECE = 1.24;
const LAMP = [-0.29, 0.7, 0.65];
const LAMP_LONG = Math.hypot(...LAMP);

/** Half the width of a picture at distance 1 that holds the whole piece with some wall round it. */
export function halfFor(frame, eye, aspect) {
  const turn = Math.atan2(-eye.x, eye.away);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const middle = -eye.y / Math.hypot(eye.x, eye.away);
  let [wide, high] = [0, 0];
  for (const sx of [-1, 1]) {
    const x = ((sx * frame.width_mm) / 2 - eye.x) / eye.away;
    const across = (x * c - s) / (c + x * s);
    wide = Math.max(wide, Math.abs(across));
    for (const sy of [-1, 1]) {
      const up = (((sy * frame.height_mm) / 2 - eye.y) / eye.away) * (c - across * s);
      high = Math.max(high, Math.abs(up - middle));
    }
  }
  return ROUND_THE_PIECE * Math.max(wide, high * aspect);
}

/** Slope of the ray that goes so far aside through air and panes: four rounds of Snell's law. */
function through(offset, air, panes) {
  let slope = offset / air;
  for (let round = 0; panes.length && round < 4; round++) {
    let depth = air;
    for (const { thickness_mm, index } of panes) depth += thickness_mm / Math.sqrt(index ** 2 * (1 + slope ** 2) - slope ** 2);
    slope = offset / depth;
  }
  return slope;
}

const outward = (eye, x, y) => eye.x * x + eye.y * y;
const windowOf = ([left, right, bottom, top]) => [-left, right, -bottom, top];

/** Everything that the shader wants to know of an eye {x, y, away, half}. */
export function eyeOf(asset, eye) {
  const { frame, panes, space, screen } = asset;
  const halves = SIDES.map(([, x, y]) => (x ? frame.width_mm : frame.height_mm) / 2 - outward(eye, x, y));
  const slope = (side, inset, depth) => (halves[side] - inset) / (eye.away + depth);
  const front = panes[0].depth_mm;
  const tip = frame.profile_mm.reduce((a, b) => (b[0] > a[0] || (b[0] === a[0] && b[1] > a[1]) ? b : a));
  const slopes = SIDES.map((_, side) => frame.profile_mm.map(([inset, depth]) => slope(side, inset, depth)));
  const outer = slopes.map((some) => Math.max(...some));
  const sight = slopes.map((some) => Math.min(...some));
  const clear = sight.map((one, side) => Math.min(one, slope(side, tip[0], 2 * front - tip[1])));
  const edges = space && asset.tables.walls ? SIDES.map((_, side) => unfolded(asset, eye, halves[side])) : null;
  const turn = Math.atan2(-eye.x, eye.away);
  const found = {
    ...eye, turn: [Math.cos(turn), Math.sin(turn)], middle: -eye.y / Math.hypot(eye.x, eye.away), halves, edges,
    outer: windowOf(outer), sight: windowOf(sight), clear: windowOf(clear), echoes: [], body: [0, 0, 0, 0], air: 0,
    sides: SIDES.map((side, k) => sideOf(asset, eye, k, halves[k], slopes[k])),
  };
  if (!screen) return found;
  const last = panes[panes.length - 1].depth_mm - (panes.length === 2 ? panes[0].thickness_mm : 0);
  found.air = eye.away + last + screen.air_mm;
  const behind = (rectangle, n) => windowOf(SIDES.map(([name, x, y], side) => {
    const own = through(rectangle[`${name}_mm`] * (x + y) - outward(eye, x, y), found.air + 2 * n * (space ? space.gap_mm : 0), panes);
    const points = space ? space.points_mm.length : 0;
    const narrowest = edges ? edges[side][Math.min((2 * n + 1) * points, edges[side].length) - 1] : Infinity;
    return Math.min(own, sight[side], narrowest);
  }));
  found.echoes = Array.from({ length: asset.tables.screen.shape[0] }, (_, n) => behind(screen.picture, n));
  found.body = behind(screen.outline, 0);
  return found;
}

/** Falling slopes of the edges of a side wall with all its images; what a nearer edge hides is taken in. */
function unfolded({ space, panes, tables }, eye, half) {
  const entry = eye.away + panes[0].depth_mm - space.before_mm;
  const found = [];
  let least = Infinity;
  for (let m = 0; m < tables.walls.shape[1]; m++) {
    for (const [inset, height] of m % 2 ? [...space.points_mm].reverse() : space.points_mm) {
      const depth = m * space.gap_mm + (m % 2 ? space.gap_mm - height : height);
      least = Math.min(least, through(half - inset, entry + depth, panes.slice(0, 1)));
      found.push(least);
    }
  }
  return found;
}

/** One side of the frame: running sums over the outward slope of inset and light. */
function sideOf(asset, eye, side, half, slopes) {
  const { frame, room } = asset;
  const [inner, outer] = [Math.min(...slopes), Math.max(...slopes)];
  const step = (outer - inner) / SAMPLES;
  const sums = new Float32Array(4 * (SAMPLES + 1));
  const facets = facetsOf(frame, side);
  for (let k = 0; k < SAMPLES; k++) {
    const at = inner + (k + 0.5) * step;
    let best = null;
    for (const facet of facets) {
      const { a, b } = facet;
      const rise = a[0] - b[0] - at * (b[1] - a[1]);
      if (Math.abs(rise) < 1e-9) continue;
      const part = (at * (eye.away + a[1]) - (half - a[0])) / rise;
      const depth = a[1] + part * (b[1] - a[1]);
      if (part >= -1e-6 && part <= 1 + 1e-6 && (!best || depth < best.depth)) best = { facet, depth, inset: a[0] + part * (b[0] - a[0]) };
    }
    const light = best ? shaded(frame, room, side, best.facet, at) : [0, 0, 0];
    const add = [best ? best.inset : 0, ...light];
    for (let c = 0; c < 4; c++) sums[4 * (k + 1) + c] = sums[4 * k + c] + add[c];
  }
  return { start: inner, step, sums };
}

function facetsOf(frame, side) {
  const [, x, y] = SIDES[side];
  return frame.profile_mm.slice(1).map((b, k) => {
    const a = frame.profile_mm[k];
    const normal = [(a[1] - b[1]) * x, (a[1] - b[1]) * y, b[0] - a[0]];
    const long = Math.hypot(...normal) || 1;
    return { a, b, normal: normal.map((one) => one / long) };
  });
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Light of a flat stretch of the profile, seen along an outward slope. */
function shaded(frame, room, side, { normal }, at) {
  const [, x, y] = SIDES[side];
  const long = Math.hypot(at, 1);
  const towards = [(-at * x) / long, (-at * y) / long, 1 / long];
  const facing = Math.min(Math.max(dot(towards, normal), 0), 1);
  const mirrored = normal.map((n, k) => 2 * facing * n - towards[k]);
  const sheen = Math.exp((6 + 40 * frame.gloss) * (dot(mirrored, LAMP) / LAMP_LONG - 1));
  const shine = room.mirrored_cd_m2 * (1 + 0.75 * mirrored[1] + (2 + 10 * frame.gloss) * sheen);
  const lamp = Math.max(0, dot(normal, LAMP)) / LAMP[2];
  const lit = 0.42 * (0.55 + 0.45 * normal[2]) * (1 + 0.3 * normal[1]) + 0.58 * lamp;
  const matt = (lit * room.illuminance_lx) / Math.PI;
  const gloss = frame.gloss * (0.04 + 0.96 * (1 - facing) ** 5) * (1 - frame.metal) * shine;
  return frame.albedo.map((own, c) => (own * matt * (1 - frame.metal) + gloss + frame.metal * shine * own) * room.white[c]);
}
