// The drawing board: one WebGL2 context that draws pieces from their assets, in linear light and as they are shown.
import { numbersOf, toHalf } from "./look-asset.js";
import { SAMPLES, eyeOf } from "./look-eye.js";
import { BLUR, COARSER, CORNERS, ECHOES, PIECE, SHOWN } from "./look-shader.js";

const GREY = [0.21263901, 0.71516868, 0.07219232];
// As the stills have it (halfsilver.optics.still_tone): white balance, scattered light, and how far which share of it.
const BALANCE = 0.6;
const SCATTERED = 0.035;
const SCATTERED_PARTS = [[0.0016, 0.6], [0.006, 0.28], [0.022, 0.12]];
const SCATTERED_CELLS = 480;
const dot = (a, b) => a.reduce((sum, one, k) => sum + one * b[k], 0);

/** How a lamp is set: the share of each emitter. Null is the job's own; a number is a white of so many kelvin; else linear red, green, blue. */
export function mixOf(colour) {
  if (colour === null) return [1, 0, 0, 0, 0, 0];
  if (typeof colour === "number") { // whites lie evenly along the inverse of their temperature
    const part = (1 / 2700 - 1 / colour) / (1 / 2700 - 1 / 6500);
    return [0, 1 - part, part, 0, 0, 0];
  }
  const shares = colour.map((one, k) => one * GREY[k]);
  const all = dot(shares, [1, 1, 1]) || 1;
  return [0, 0, 0, ...shares.map((one) => one / all)];
}

/** The b of a + ln(1 + b (x - a))/b that reaches 1 at the brightest light. */
function steepOf(most, knee) {
  let [low, high] = [1e-9, 1e6];
  for (let k = 0; k < 80; k++) {
    const middle = Math.sqrt(low * high);
    if (Math.log(1 + middle * (most - knee)) / middle > 1 - knee) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}

export class Board {
  /** A board on a canvas; null where the browser has no WebGL2 that can draw light. */
  static on(canvas) {
    const gl = canvas.getContext("webgl2", { alpha: false, antialias: false, depth: false, powerPreference: "high-performance" });
    if (!gl || !(gl.getExtension("EXT_color_buffer_float") || gl.getExtension("EXT_color_buffer_half_float"))) return null;
    return new Board(canvas, gl);
  }

  constructor(canvas, gl) {
    this.canvas = canvas;
    this.gl = gl;
    this.sheets = {};
    this.programs = Object.fromEntries(Object.entries({ PIECE, COARSER, BLUR, SHOWN }).map(([name, text]) => [name, programOf(gl, text)]));
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array([-1, -1, 3, -1, -1, 3]), gl.STATIC_DRAW);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 2, gl.FLOAT, false, 0, 0);
    gl.pixelStorei(gl.UNPACK_ALIGNMENT, 1);
  }

  /** A piece on the board. */
  piece(asset) { return new Piece(this.gl, asset); }

  /** Draw rows of a piece in linear light, from `from` up to `to` of the picture's height, on the sheet of that name. */
  light(piece, eye, lit, { name = "light", width, height, from = 0, to = height, scale = 1, exact = false }) {
    const { gl } = this;
    const sheet = (this.drawn = this.sheet(name, width, height, exact ? gl.RGBA32F : gl.RGBA16F));
    gl.bindFramebuffer(gl.FRAMEBUFFER, sheet.frame);
    gl.viewport(0, 0, width, height);
    gl.enable(gl.SCISSOR_TEST);
    gl.scissor(0, from, width, to - from);
    piece.set(this.programs.PIECE, eye, lit, width, height, scale);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    gl.disable(gl.SCISSOR_TEST);
  }

  /** Linear sRGB in cd/m2, four numbers a pixel, the lowest row first. */
  linear(piece, eye, lit, width, height) {
    const { gl } = this;
    this.light(piece, eye, lit, { name: "exact", width, height, exact: true });
    const found = new Float32Array(4 * width * height);
    gl.readPixels(0, 0, width, height, gl.RGBA, gl.FLOAT, found);
    return found;
  }

  /** When what was asked for is drawn; the page goes on meanwhile. */
  async done() {
    const { gl } = this;
    const mark = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
    for (;;) {
      await new Promise((next) => setTimeout(next, 1));
      if (gl.isContextLost() || gl.clientWaitSync(mark, 0, 0) !== gl.TIMEOUT_EXPIRED) break;
    }
    gl.deleteSync(mark);
  }

  /** From linear light to the canvas: glare round what dazzles, exposure, tone curve, sRGB. */
  show(asset, on) {
    const { gl, canvas, programs, drawn: light } = this;
    const cell = Math.max(4, Math.round(light.width / SCATTERED_CELLS));
    const [wide, high] = [Math.ceil(light.width / cell), Math.ceil(light.height / cell)];
    const [coarse, turned, glare] = ["coarse", "turned", "glare"].map((name) => this.sheet(name, wide, high, gl.RGBA16F));
    this.pass(programs.COARSER, coarse, { u_from: light, u_cell: cell });
    SCATTERED_PARTS.forEach(([size, share], k) => {
      const u_sigma = Math.max(size * wide, 0.5);
      this.pass(programs.BLUR, turned, { u_from: coarse, u_step: [1, 0], u_sigma, u_share: 1 });
      this.pass(programs.BLUR, glare, { u_from: turned, u_step: [0, 1], u_sigma, u_share: share * SCATTERED }, k > 0);
    });
    const { knee, most_cd_m2 } = asset.exposure;
    const most = most_cd_m2 / whiteOf(asset, on);
    this.pass(programs.SHOWN, { frame: null, width: canvas.width, height: canvas.height }, {
      u_from: light, u_glare: glare, u_size: [canvas.width, canvas.height], u_balance: balanceOf(asset.room.white), u_knee: knee,
      u_steep: steepOf(most, knee), u_scattered: SCATTERED,
    });
  }

  /** One pass over the whole of a sheet. */
  pass(program, to, values, add = false) {
    const { gl } = this;
    gl.bindFramebuffer(gl.FRAMEBUFFER, to.frame);
    gl.viewport(0, 0, to.width, to.height);
    if (add) { gl.enable(gl.BLEND); gl.blendFunc(gl.ONE, gl.ONE); }
    program.use(values);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    gl.disable(gl.BLEND);
  }

  /** A sheet to draw on, made anew where its size has changed. */
  sheet(name, width, height, kind) {
    const { gl } = this;
    const known = this.sheets[name];
    if (known && known.width === width && known.height === height && known.kind === kind) return known;
    if (known) { gl.deleteTexture(known.texture); gl.deleteFramebuffer(known.frame); }
    const texture = textureOf(gl, { width, height, kind, filter: kind === gl.RGBA32F ? gl.NEAREST : gl.LINEAR });
    const frame = gl.createFramebuffer();
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, texture, 0);
    return (this.sheets[name] = { width, height, kind, texture, frame });
  }
}

/** Luminance that is shown as white. */
export const whiteOf = (asset, on) => (on ? asset.exposure.screen_on_cd_m2 : asset.exposure.screen_off_cd_m2);

/** Factors that bring the light to which the eye is used to grey. */
function balanceOf(white) {
  const raw = white.map((one) => Math.max(one, 1e-3) ** -BALANCE);
  const keep = dot(white, GREY) / dot(raw.map((one, k) => one * white[k]), GREY);
  return raw.map((one) => one * keep);
}

/** A piece: its tables as textures, and its sizes as uniforms. */
class Piece {
  constructor(gl, asset) {
    this.gl = gl;
    this.asset = asset;
    const { tables } = asset;
    const one = (values, width, height, channels) => textureOf(gl, { width, height, kind: [gl.R32F, 0, gl.RGB32F, gl.RGBA32F][channels - 1], values });
    this.textures = { u_glass: one(tables.glass.values, tables.glass.shape[0], 1, 4), u_sides: null, u_content: black(gl) };
    this.rooms = Object.fromEntries(asset.viewers.map(({ id }) => [id, roomOf(gl, tables[`room ${id}`])]));
    const none = one(new Float32Array(4), 2, 1, 1);
    Object.assign(this.textures, { u_walls: none, u_wood: none, u_edges: none, u_screen: none, u_stray: none, u_grain: none });
    if (tables.grain) this.textures.u_grain = grainOf(gl, tables.grain);
    if (tables.walls) this.textures.u_wood = this.wood(one);
    if (tables.screen) this.textures.u_screen = this.screen(one);
    if (tables.stray_up) {
      const both = Float32Array.from([...tables.stray_across.values, ...tables.stray_up.values]);
      this.textures.u_stray = one(both, tables.stray_up.shape[0], 2, 1);
    }
    this.fixed = this.sizes();
    this.walls = tables.walls && numbersOf(tables.walls);
    this.mixed = "";
    this.seen = null;
  }

  /** Stretches of wood, upright and level, one row each, about the middle. */
  wood(one) {
    const [upright, level] = ["wood_upright", "wood_level"].map((name) => this.asset.tables[name]);
    const [stretches] = upright.shape;
    const wide = Math.max(upright.shape[1], level.shape[1]);
    const found = new Float32Array(wide * 2 * stretches);
    [upright, level].forEach((table, which) => {
      const [values, own] = [numbersOf(table), table.shape[1]];
      for (let k = 0; k < stretches; k++) for (let at = 0; at < wide; at++) {
        const from = Math.min(Math.max(at - (wide - own) / 2, 0), own - 1);
        found[(2 * k + which) * wide + at] = values[k * own + from];
      }
    });
    this.woodPlaces = wide;
    return one(found, wide, 2 * stretches, 1);
  }

  /** Gains of the picture and its echoes; those beyond what the shader has room for lie on the last. */
  screen(one) {
    const { shape, values } = this.asset.tables.screen;
    const row = shape[1] * shape[2] * shape[3];
    const kept = Float32Array.from(values.subarray(0, Math.min(shape[0], ECHOES) * row));
    for (let n = ECHOES; n < shape[0]; n++) for (let k = 0; k < row; k++) kept[(ECHOES - 1) * row + k] += values[n * row + k];
    return one(kept, shape[2], 2 * Math.min(shape[0], ECHOES), 3);
  }

  sizes() {
    const { frame, room, screen, space, strip, panes, tables } = this.asset;
    const found = {
      u_outside: [frame.width_mm, frame.height_mm], u_angle_step: this.asset.angle_step_deg, u_grain_by: tables.grain ? frame.grain : 0,
      u_wall_depth: frame.wall_depth_mm, u_recess: frame.recess_mm, u_wall_lx: room.illuminance_lx, u_centre: room.centre_height_mm,
      u_white: room.white, u_paint: room.paint, u_lip: frame.albedo.map((one) => (one * 0.35 * room.illuminance_lx) / Math.PI),
      u_points: space ? space.points_mm.length : 1, u_orders: tables.walls ? tables.walls.shape[1] : 0,
      u_strip: space ? space.strip.reduce((bits, on, k) => bits | (on ? 1 << k : 0), 0) : 0, u_lit_space: space && strip ? 1 : 0,
      u_has_screen: screen ? 1 : 0, u_panes: panes.length, u_glasses: panes.flatMap((one) => [one.thickness_mm, one.index]),
      u_gap: space ? space.gap_mm : 0, u_place_step: this.asset.place_step_mm, u_wood_places: this.woodPlaces || 1,
      u_echo_count: screen ? Math.min(tables.screen.shape[0], ECHOES) : 0,
    };
    if (strip) Object.assign(found, {
      u_inset: strip.inset_mm, u_pitch: strip.pitch_mm, u_bell: strip.bell_mm, u_half_lit: [strip.half_across_mm, strip.half_up_mm],
    });
    if (!screen) return found;
    const { picture } = screen;
    const turn = (screen.axis_deg ?? 0) * (Math.PI / 180);
    return Object.assign(found, {
      u_black: screen.black_cd_m2 / screen.white_cd_m2, u_q: screen.axis_deg === undefined ? 0.5 : -1, u_axis: [Math.cos(turn), Math.sin(turn)],
      u_face_mirror: screen.face_mirror, u_diffuse: [screen.beside_diffuse, screen.face_diffuse],
      u_picture: [picture.left_mm, picture.right_mm, picture.bottom_mm, picture.top_mm],
      u_colours: screen.colours.flatMap((colour, k) => colour.map((one) => one * screen.white_cd_m2 * screen.shares[k])),
    });
  }

  /** What its screen shows: linear 0 to 1 in half precision, four values a texel, the upper row first; null is black. */
  content(picture) {
    const { gl } = this;
    gl.deleteTexture(this.textures.u_content);
    this.textures.u_content = picture ? contentOf(gl, picture) : black(gl);
  }

  /** The walls' light for a mix of emitters. */
  mix(mix) {
    if (!this.walls || this.mixed === String(mix)) return;
    this.mixed = String(mix);
    const [emitters, orders, angles] = this.asset.tables.walls.shape;
    const [size, found] = [orders * angles * 3, new Float32Array(orders * angles * 3)];
    for (let e = 0; e < emitters; e++) if (mix[e]) for (let k = 0; k < size; k++) found[k] += mix[e] * this.walls[e * size + k];
    const { gl } = this;
    if (this.wallTexture) gl.deleteTexture(this.wallTexture);
    this.textures.u_walls = this.wallTexture = textureOf(gl, { width: angles, height: orders, kind: gl.RGB32F, values: found });
    const own = dot([...this.walls.subarray(0, 3)], GREY);
    this.tint = [...found.subarray(0, 3)].map((one) => one / own);
  }

  /** Everything the shader wants to know, for an eye {x, y, away, half, viewer} and lights {screen, lights, mix}. */
  set(program, eye, lit, width, height, scale) {
    const { gl, asset } = this;
    const where = JSON.stringify([eye.x, eye.y, eye.away]);
    if (this.where !== where) { this.where = where; this.seen = eyeOf(asset, eye); this.tables(); }
    this.mix(lit.mix ?? [1, 0, 0, 0, 0, 0]);
    const { seen } = this;
    const viewer = asset.viewers.find((one) => one.id === eye.viewer) ?? asset.viewers[0];
    const { room } = viewer;
    program.use({
      ...this.fixed, ...this.textures, u_room: this.rooms[viewer.id], u_size: [width, height], u_scale: scale, u_turn: seen.turn,
      u_eye: [eye.x, eye.y, eye.away], u_middle: seen.middle, u_half: eye.half, u_outer: seen.outer, u_sight: seen.sight, u_clear: seen.clear,
      u_body: seen.body, u_halves: seen.halves, u_starts: seen.sides.flatMap(({ start, step }) => [start, step]), u_air: seen.air,
      u_echo: seen.echoes.slice(0, ECHOES).flat(), u_room_box: [room.left_mm, room.right_mm, room.bottom_mm, room.top_mm],
      u_room_away: [eye.away + viewer.facing_mm + 2 * asset.panes[0].depth_mm, 0], u_shown: asset.screen ? lit.screen : 0,
      u_lights: asset.strip ? lit.lights * asset.strip.luminance_cd_m2 : 0, u_tint: this.tint ?? [0, 0, 0],
    });
    gl.activeTexture(gl.TEXTURE0);
  }

  /** The tables of the eye where it now is. */
  tables() {
    const { gl, seen } = this;
    const put = (name, values, width, kind) => {
      if (this[name]) gl.deleteTexture(this[name]);
      this.textures[name] = this[name] = textureOf(gl, { width, height: 4, kind, values });
    };
    const sums = new Float32Array(16 * (SAMPLES + 1));
    seen.sides.forEach((side, k) => sums.set(side.sums, 4 * k * (SAMPLES + 1)));
    put("u_sides", sums, SAMPLES + 1, gl.RGBA32F);
    if (seen.edges) put("u_edges", Float32Array.from(seen.edges.flat()), seen.edges[0].length, gl.R32F);
  }

  /** Give back what it holds. */
  drop() {
    for (const texture of new Set([...Object.values(this.textures), ...Object.values(this.rooms)])) this.gl.deleteTexture(texture);
  }
}

/** A picture for the screen from the bytes of a canvas: as the screen's own gamma makes of the code, else as sRGB says. */
export function lightOf({ data, width, height }, gamma) {
  const table = Uint16Array.from({ length: 256 }, (_, code) => {
    const c = code / 255;
    return toHalf(gamma ? c ** gamma : c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  });
  const values = new Uint16Array(4 * width * height);
  for (let k = 0; k < values.length; k += 4) for (let c = 0; c < 3; c++) values[k + c] = table[data[k + c]];
  return { values, width, height };
}

function programOf(gl, text) {
  const program = gl.createProgram();
  for (const [kind, source] of [[gl.VERTEX_SHADER, CORNERS], [gl.FRAGMENT_SHADER, text]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.bindAttribLocation(program, 0, "a_at");
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) {
    const words = gl.getAttachedShaders(program).map((shader) => gl.getShaderInfoLog(shader)).join(" ");
    throw new Error(`The picture's program cannot be used: ${words}`);
  }
  return { use: userOf(gl, program) };
}

/** A function that sets a program's uniforms by name; textures take the next free place. */
function userOf(gl, program) {
  const set = {
    [gl.FLOAT]: (at, v) => gl.uniform1f(at, v), [gl.INT]: (at, v) => gl.uniform1i(at, v), [gl.FLOAT_VEC2]: (at, v) => gl.uniform2fv(at, v),
    [gl.FLOAT_VEC3]: (at, v) => gl.uniform3fv(at, v), [gl.FLOAT_VEC4]: (at, v) => gl.uniform4fv(at, v),
    [gl.FLOAT_MAT3]: (at, v) => gl.uniformMatrix3fv(at, false, v),
  };
  const known = Array.from({ length: gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS) }, (_, k) => gl.getActiveUniform(program, k))
    .map(({ name, type }) => ({ name: name.replace("[0]", ""), type, at: gl.getUniformLocation(program, name) }));
  return (values) => {
    gl.useProgram(program);
    let unit = 0;
    for (const { name, type, at } of known) {
      const value = values[name];
      if (value === undefined || value === null) continue;
      if (type !== gl.SAMPLER_2D) { if (value.length !== 0) set[type](at, value); continue; }
      gl.activeTexture(gl.TEXTURE0 + unit);
      gl.bindTexture(gl.TEXTURE_2D, value.texture ?? value);
      gl.uniform1i(at, unit++);
    }
  };
}

function textureOf(gl, { width, height, kind, values = null, filter = gl.NEAREST, wrap = gl.CLAMP_TO_EDGE }) {
  const [format, type] = {
    [gl.R32F]: [gl.RED, gl.FLOAT], [gl.RGB32F]: [gl.RGB, gl.FLOAT], [gl.RGBA32F]: [gl.RGBA, gl.FLOAT], [gl.R8_SNORM]: [gl.RED, gl.BYTE],
    [gl.RGB16F]: [gl.RGB, gl.HALF_FLOAT], [gl.RGBA16F]: [gl.RGBA, gl.HALF_FLOAT],
  }[kind];
  const texture = gl.createTexture();
  gl.activeTexture(gl.TEXTURE0);
  gl.bindTexture(gl.TEXTURE_2D, texture);
  gl.texImage2D(gl.TEXTURE_2D, 0, kind, width, height, 0, format, type, values);
  for (const [name, value] of [["TEXTURE_MIN_FILTER", filter], ["TEXTURE_MAG_FILTER", filter], ["TEXTURE_WRAP_S", wrap], ["TEXTURE_WRAP_T", wrap]]) {
    gl.texParameteri(gl.TEXTURE_2D, gl[name], value);
  }
  return texture;
}

const roomOf = (gl, { shape, values }) => textureOf(gl, { width: shape[1], height: shape[0], kind: gl.RGB16F, values, filter: gl.LINEAR });
const grainOf = (gl, { shape, values }) =>
  textureOf(gl, { width: shape[1], height: shape[0], kind: gl.R8_SNORM, values, filter: gl.LINEAR, wrap: gl.REPEAT });
const black = (gl) => textureOf(gl, { width: 1, height: 1, kind: gl.RGBA16F, values: new Uint16Array(4) });

function contentOf(gl, picture) {
  const texture = textureOf(gl, { ...picture, kind: gl.RGBA16F, filter: gl.LINEAR });
  gl.generateMipmap(gl.TEXTURE_2D);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.LINEAR_MIPMAP_LINEAR);
  return texture;
}
