// The fragment shaders: the piece in linear light, its glare, and the picture as it is shown. The formula is in docs/shader-input.md.
export const CORNERS = `#version 300 es
in vec2 a_at;
void main() { gl_Position = vec4(a_at, 0.0, 1.0); }`;

const HEAD = `#version 300 es
precision highp float; precision highp int; precision highp sampler2D;
out vec4 o_light;
const float PI = 3.141592653589793;
const vec3 GREY = vec3(0.21263901, 0.71516868, 0.07219232);
`;

export const ECHOES = 24;

export const PIECE = `${HEAD}
uniform vec2 u_size, u_turn, u_outside, u_stray_size;
uniform vec3 u_eye;
uniform float u_middle, u_half, u_scale;
uniform vec4 u_outer, u_sight, u_clear, u_body, u_halves;
uniform vec2 u_starts[4];
uniform sampler2D u_sides, u_glass, u_walls, u_wood, u_edges, u_screen, u_stray, u_room, u_grain, u_content;
uniform float u_angle_step, u_grain_by, u_wall_depth, u_recess, u_wall_lx, u_centre, u_tip;
uniform vec3 u_white, u_paint, u_lip;
uniform vec4 u_room_box; // left, right, bottom, top
uniform vec2 u_room_away; // how far the wall opposite stands, and nothing
uniform int u_points, u_orders, u_strip, u_lit_space, u_has_screen, u_panes, u_echo_count, u_wood_places;
uniform float u_lights, u_inset, u_pitch, u_bell, u_place_step; // u_lights: dimmer times luminance
uniform vec2 u_half_lit; // across, up
uniform vec3 u_tint;
uniform vec4 u_echo[${ECHOES}];
uniform vec2 u_glasses[2];
uniform float u_air, u_gap, u_shown, u_black, u_q, u_face_mirror;
uniform vec2 u_axis, u_diffuse; // beside, face
uniform vec4 u_picture; // left, right, bottom, top
uniform mat3 u_colours; // of the primaries, times their luminance

float L, R, B, T, X, Y; // the pixel's box of slopes, and its middle

float overlap(float low, float high, float start, float end) { return clamp((min(high, end) - max(low, start)) / (high - low), 0.0, 1.0); }
float cover(vec4 w) { return overlap(L, R, w.x, w.y) * overlap(B, T, w.z, w.w); }
vec4 along(sampler2D table, float place, int row) {
  int last = textureSize(table, 0).x - 1;
  float p = clamp(place, 0.0, float(last) - 1e-4);
  int low = int(p);
  return mix(texelFetch(table, ivec2(low, row), 0), texelFetch(table, ivec2(low + 1, row), 0), p - float(low));
}
float degreesOf(float slope) { return degrees(atan(slope)) / u_angle_step; }
float rise(float t) { t = clamp(t, 0.0, 1.0); return t * t * (3.0 - 2.0 * t); }
float soft(vec2 at, vec2 halves, float edge) {
  vec2 t = (halves - abs(at)) / (2.0 * edge) + 0.5;
  return rise(t.x) * rise(t.y);
}

vec3 wall() {
  float away = u_eye.z + u_wall_depth;
  vec2 at = u_eye.xy + vec2(X, Y) * away, halves = u_outside / 2.0;
  float reach = 1.3 * max(max(halves.x, halves.y), 500.0);
  float light = 0.50 + 0.58 * exp(-pow(at.x / (1.5 * reach), 2.0) - pow((at.y - 0.45 * halves.y) / (1.25 * reach), 2.0));
  if (u_wall_depth > 0.0) {
    vec2 thrown = u_wall_depth * vec2(0.29, -0.70) / 0.65;
    light *= 1.0 - 0.50 * soft(at - thrown, halves, 0.42 * u_wall_depth);
    light *= 1.0 - 0.22 * soft(at - thrown * vec2(1.6, 1.8), halves, 1.5 * u_wall_depth);
    light *= 1.0 - 0.45 * soft(at, halves, 0.9 * u_wall_depth);
  }
  if (u_recess > 0.0) light *= 1.0 - 0.9 * soft(at, halves + u_recess, 0.5 * (R - L) * away);
  float floor_ = rise((-at.y - u_centre) / 8.0 + 0.5);
  return light * u_wall_lx / PI * mix(u_paint, vec3(0.16, 0.12, 0.09), floor_) * u_white;
}

vec4 sumAt(int side, float place) {
  float low = min(floor(place), float(textureSize(u_sides, 0).x - 2));
  return mix(texelFetch(u_sides, ivec2(int(low), side), 0), texelFetch(u_sides, ivec2(int(low) + 1, side), 0), place - low);
}
vec4 sideMean(int side, float near, float far) { // inset, light
  float last = float(textureSize(u_sides, 0).x - 1), start = u_starts[side].x;
  float low = clamp((near - start) / u_starts[side].y, 0.0, last), high = clamp((far - start) / u_starts[side].y, 0.0, last);
  float middle = clamp((low + high) / 2.0, 0.5, last - 0.5);
  high = max(high, middle + 0.5); low = min(low, middle - 0.5);
  vec4 found = (sumAt(side, high) - sumAt(side, low)) / (high - low);
  found.x += max(start - far, 0.0) * u_eye.z;
  return found;
}
float grain(float length_, float across, float pixel) {
  if (u_grain_by == 0.0) return 1.0;
  vec2 at = vec2(length_ / 260.0 * 16.0, across / 3.6 * 4.0) + 0.5;
  return 1.0 + u_grain_by * min(1.0, 9.0 / pixel) * texture(u_grain, at / 128.0).r * 127.0 / 127.0;
}
vec3 frame() {
  vec4 x = X > (u_sight.x + u_sight.y) / 2.0 ? sideMean(1, L, R) : sideMean(0, -R, -L);
  vec4 y = Y > (u_sight.z + u_sight.w) / 2.0 ? sideMean(3, B, T) : sideMean(2, -T, -B);
  float pixel = max(R - L, T - B) * u_eye.z;
  vec2 at = u_eye.xy + vec2(X, Y) * u_eye.z;
  float share = clamp(0.5 + (y.x - x.x) / (2.0 * pixel), 0.0, 1.0);
  x.yzw *= grain(at.y + (X > 0.0 ? 5000.0 : 0.0), x.x, pixel);
  y.yzw *= grain(at.x + 2500.0 + (Y > 0.0 ? 5000.0 : 0.0), y.x, pixel);
  float line = clamp((pixel / 2.0 + 0.4 - abs(x.x - y.x)) / pixel, 0.0, min(1.0, 0.8 / pixel));
  return mix(y.yzw, x.yzw, share) * (1.0 - 0.5 * line);
}

float screenDepth() {
  float square = X * X + Y * Y, depth = u_air;
  for (int k = 0; k < u_panes; k++) depth += u_glasses[k].x / sqrt(u_glasses[k].y * u_glasses[k].y * (1.0 + square) - square);
  return depth;
}
vec3 picture(float depth) {
  float square = X * X + Y * Y, place = degreesOf(sqrt(square)), q = u_q;
  if (q < 0.0) q = square > 1e-12 ? pow(dot(vec2(X, Y), u_axis), 2.0) / square : 0.5;
  vec3 found = vec3(0.0);
  vec2 size = vec2(u_picture.y - u_picture.x, u_picture.w - u_picture.z);
  vec2 per = vec2(R - L, T - B) * depth / size;
  for (int n = 0; n < u_echo_count; n++) {
    float seen = cover(u_echo[n]);
    if (seen <= 0.0) continue;
    vec2 at = u_eye.xy + vec2(X, Y) * (depth + 2.0 * float(n) * u_gap);
    vec2 uv = vec2(at.x - u_picture.x, u_picture.w - at.y) / size;
    vec3 shown = u_black + (1.0 - u_black) * textureGrad(u_content, uv, vec2(per.x, 0.0), vec2(0.0, per.y)).rgb;
    found += shown * mix(along(u_screen, place, 2 * n).rgb, along(u_screen, place, 2 * n + 1).rgb, q) * seen;
  }
  return u_colours * found;
}

float diodes(float place, float foot, float spread, float half_lit) {
  float value = 1.0, bells = u_bell * u_bell + spread * spread;
  for (int j = 1; j <= 3; j++) {
    float turn = 2.0 * PI * float(j) / u_pitch, depth = 2.0 * exp(-bells * turn * turn / 2.0);
    if (depth < 1e-4) break;
    float s = PI * float(j) * foot / u_pitch;
    value += depth * (s < 1e-4 ? 1.0 : sin(s) / s) * cos(turn * (place + u_pitch / 2.0));
  }
  return max(value, 0.0) * clamp((half_lit - abs(place)) / (foot + 2.0 * spread) + 0.5, 0.0, 1.0);
}
float edge(int at, int side) { return texelFetch(u_edges, ivec2(at, side), 0).r; }
vec3 sideWall(int side, float low, float high, float slope, float foot, float eye, float half_lit, float reach, int level) {
  int count = u_points * u_orders, first = 0, last = count; // the first edge inside the pixel's outer end
  while (first < last) { int middle = (first + last) / 2; if (edge(middle, side) < high) last = middle; else first = middle + 1; }
  if (first >= count) return vec3(0.0);
  vec3 found = vec3(0.0);
  int at = max(first - 1, 0);
  float inner = edge(at, side);
  for (int step_ = 0; step_ < 160; step_++, at++) {
    float outer = inner;
    if (at + 1 >= count || outer <= max(low, 0.0)) break;
    inner = edge(at + 1, side);
    int m = at / u_points, k = at - m * u_points;
    float near = max(inner, 0.0);
    float start = max(low, near), end = min(high, outer), share = (end - start) / (high - low);
    if (k == u_points - 1 || share <= 0.0) continue;
    int stretch = m % 2 == 1 ? u_points - 2 - k : k;
    float middle = (near + outer) / 2.0, value;
    if ((u_strip >> stretch & 1) == 1) {
      float away = reach / ((start + end) / 2.0);
      value = diodes(eye + slope * away, foot * away, away * away / reach * (end - start) / sqrt(12.0) * abs(slope), half_lit);
    } else {
      value = along(u_wood, (eye + slope * reach / middle) / u_place_step + float(u_wood_places - 1) / 2.0, 2 * stretch + level).r;
    }
    found += along(u_walls, degreesOf(length(vec2(middle, slope))), m).rgb * value * share;
  }
  return found;
}
vec3 space() {
  vec2 farX = vec2(u_halves.x, u_halves.y) - u_inset, farY = vec2(u_halves.z, u_halves.w) - u_inset;
  float rx = X < 0.0 ? farX.x : farX.y, ry = Y < 0.0 ? farY.x : farY.y;
  float upright = clamp(0.5 + (abs(X) / rx - abs(Y) / ry) / max(((R - L) / rx + (T - B) / ry), 1e-12), 0.0, 1.0);
  vec3 found = vec3(0.0);
  if (upright > 0.0) {
    vec3 some = vec3(0.0);
    if (L < 0.0) some += sideWall(0, -R, -L, Y, T - B, u_eye.y, u_half_lit.y, farX.x, 0);
    if (R > 0.0) some += sideWall(1, L, R, Y, T - B, u_eye.y, u_half_lit.y, farX.y, 0);
    found += some * upright;
  }
  if (upright < 1.0) {
    vec3 some = vec3(0.0);
    if (B < 0.0) some += sideWall(2, -T, -B, X, R - L, u_eye.x, u_half_lit.x, farY.x, 1);
    if (T > 0.0) some += sideWall(3, B, T, X, R - L, u_eye.x, u_half_lit.x, farY.y, 1);
    found += some * (1.0 - upright);
  }
  return found;
}
vec3 inside(float sight) {
  vec4 glass = along(u_glass, degreesOf(length(vec2(X, Y))), 0);
  float body = u_has_screen == 1 ? cover(u_body) : 0.0;
  if (u_has_screen == 1 && u_lit_space == 0) glass.rgb -= (1.0 - body) * glass.a * glass.a * u_face_mirror;
  vec2 at = u_eye.xy + vec2(X, Y) * u_room_away.x;
  vec3 room = texture(u_room, (at - u_room_box.xz) / (u_room_box.yw - u_room_box.xz)).rgb;
  vec3 found = mix(u_lip, room, min(cover(u_clear) / max(sight, 1e-9), 1.0)) * glass.rgb;
  if (u_has_screen == 1) {
    float depth = screenDepth(), rho = mix(u_diffuse.x, u_diffuse.y, body);
    found += rho / PI * glass.a * glass.a * u_wall_lx * u_white;
    if (u_lights > 0.0 && u_lit_space == 1) {
      vec2 place = asin(clamp(2.0 * (u_eye.xy + vec2(X, Y) * depth) / u_outside, -1.0, 1.0)) / PI + 0.5;
      float last = float(textureSize(u_stray, 0).x - 1);
      float lux = along(u_stray, place.x * last, 0).r + along(u_stray, place.y * last, 1).r;
      found += u_lights * glass.a * rho / PI * lux * u_tint;
    }
    if (u_shown > 0.0) found += u_shown * picture(depth);
  }
  if (u_lights > 0.0 && u_lit_space == 1) found += u_lights * space();
  return found;
}
void main() {
  vec2 at = gl_FragCoord.xy;
  float c = u_turn.x, s = u_turn.y, wide = u_half / u_size.x * 2.0;
  float ul = (at.x - 0.5) * wide - u_half, ur = ul + wide, um = ul + wide / 2.0;
  L = (s + ul * c) / (c - ul * s); R = (s + ur * c) / (c - ur * s);
  float vb = u_middle + (at.y - 0.5 - u_size.y / 2.0) * wide, ahead = c - um * s;
  B = vb / ahead; T = (vb + wide) / ahead;
  X = (L + R) / 2.0; Y = (B + T) / 2.0;
  float outer = cover(u_outer), sight = cover(u_sight);
  vec3 found = vec3(0.0);
  if (outer < 1.0 - 1e-6) found += (1.0 - outer) * wall();
  if (outer - sight > 1e-6) found += (outer - sight) * frame();
  if (sight > 1e-6) found += sight * inside(sight);
  o_light = vec4(max(found, 0.0) * u_scale, 1.0);
}`;

export const COARSER = `${HEAD}
uniform sampler2D u_from;
uniform int u_cell;
void main() {
  ivec2 first = ivec2(gl_FragCoord.xy) * u_cell, last = textureSize(u_from, 0) - 1;
  vec3 found = vec3(0.0);
  for (int r = 0; r < u_cell; r++) for (int c = 0; c < u_cell; c++) found += texelFetch(u_from, min(first + ivec2(c, r), last), 0).rgb;
  o_light = vec4(found / float(u_cell * u_cell), 1.0);
}`;

export const BLUR = `${HEAD}
uniform sampler2D u_from;
uniform vec2 u_step;
uniform float u_sigma, u_share;
void main() {
  vec2 size = vec2(textureSize(u_from, 0)), at = gl_FragCoord.xy / size;
  vec3 found = texture(u_from, at).rgb;
  float total = 1.0;
  for (float k = 1.0; k <= 3.0 * u_sigma; k += 2.0) { // two neighbours with one look between them
    float a = exp(-k * k / (2.0 * u_sigma * u_sigma)), b = exp(-(k + 1.0) * (k + 1.0) / (2.0 * u_sigma * u_sigma));
    vec2 off = u_step * (k + b / (a + b)) / size;
    found += (a + b) * (texture(u_from, at + off).rgb + texture(u_from, at - off).rgb);
    total += 2.0 * (a + b);
  }
  o_light = vec4(found / total * u_share, 1.0);
}`;

export const SHOWN = `${HEAD}
uniform sampler2D u_from, u_glare;
uniform vec2 u_size;
uniform vec3 u_balance;
uniform float u_knee, u_steep, u_scattered;
float pattern(ivec2 at) { // thresholds spread evenly over eight by eight pixels (Bayer 1973)
  int found = 0;
  for (int bit = 0; bit < 3; bit++) { int x = at.x >> bit & 1, y = at.y >> bit & 1; found += ((x ^ y) * 2 + y) << (2 * (2 - bit)); }
  return (float(found) + 0.5) / 64.0;
}
void main() {
  vec2 at = gl_FragCoord.xy / u_size;
  vec3 exposed = ((1.0 - u_scattered) * texture(u_from, at).rgb + texture(u_glare, at).rgb) * u_balance;
  float light = max(dot(exposed, GREY), 1e-9);
  float shown = light <= u_knee ? light : u_knee + log(1.0 + u_steep * (light - u_knee)) / u_steep;
  vec3 colour = exposed * (shown / light);
  float grey = clamp(dot(colour, GREY), 0.0, 1.0);
  vec3 apart = colour - grey, room = mix(vec3(grey), vec3(1.0 - grey), step(0.0, apart));
  vec3 keep = mix(vec3(1.0), room / max(abs(apart), 1e-9), step(room, abs(apart)));
  colour = clamp(grey + min(keep.r, min(keep.g, keep.b)) * apart, 0.0, 1.0);
  vec3 code = mix(12.92 * colour, 1.055 * pow(max(colour, 1e-9), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, colour));
  o_light = vec4(floor(min(255.0 * code + pattern(ivec2(gl_FragCoord.xy)), 255.0)) / 255.0, 1.0);
}`;
