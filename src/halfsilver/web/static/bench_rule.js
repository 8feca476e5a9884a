// A rule that readings are tapped on: one inch, or as many millimetres, at a time, drawn wide enough for a finger.
const SVG = "http://www.w3.org/2000/svg";
const WIDE = 760, TALL = 170, EDGE = 40; // drawing's own units
export const INCH_MM = 25.4;

const common = (a, b) => (b ? common(b, a % b) : a);

/** A length as it is written: whole inches and a fraction, or millimetres. */
export function written(value, rule) {
  if (rule.unit === "mm") return `${+value.toFixed(rule.step < 0.5 ? 1 : 2)} mm`;
  const n = Math.round(value * rule.parts), whole = Math.floor(n / rule.parts), rest = n % rule.parts, by = common(rest, rule.parts);
  return `${[whole || !rest ? whole : "", rest ? `${rest / by}/${rule.parts / by}` : ""].filter((part) => part !== "").join(" ")} in`;
}

/** What somebody typed, as {value, unit}; null where this script cannot read it (the program may). */
export function read(text, unit) {
  const found = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+)[\s-]+)?(\d+)\/(\d+))\s*(in|"|″|mm|cm)?$/.exec(text.trim());
  if (!found) return null;
  const [, plain, whole, top, under, said] = found;
  const value = plain ? Number(plain.replace(",", ".")) : Number(whole ?? 0) + Number(top) / Number(under);
  const named = { '"': "in", "″": "in", cm: "mm" }[said] ?? said ?? unit;
  return Number.isFinite(value) ? { value: said === "cm" ? value * 10 : value, unit: named } : null;
}

export const asMm = (value, unit) => (unit === "in" ? value * INCH_MM : value);
export const fromMm = (mm, unit) => (unit === "in" ? mm / INCH_MM : mm);

export class Rule {
  constructor(place, picked) {
    this.place = place;
    this.picked = picked;
    let held = false;
    place.addEventListener("pointerdown", (event) => { held = true; place.setPointerCapture(event.pointerId); this.tap(event); });
    place.addEventListener("pointermove", (event) => { if (held) this.tap(event); });
    for (const end of ["pointerup", "pointercancel"]) place.addEventListener(end, () => {
      if (held && this.value !== null) this.show({ ...this.now, value: this.value, from: null });
      held = false;
    });
  }

  /** Show a stretch of the rule: around the value, or around what is due where nothing was read yet. */
  show({ rule, value, due, limit, from = null }) {
    const span = rule.unit === "in" ? Math.min(1, 32 * rule.step) : 20 * rule.step;
    const middle = value ?? due;
    this.now = { rule, value, due, limit };
    this.value = value;
    this.span = span;
    this.from = from ?? Math.max(0, Math.floor(middle / span + 1e-9) * span);
    this.draw();
  }

  x(value) { return EDGE + (value - this.from) / this.span * (WIDE - 2 * EDGE); }

  tap(event) {
    const box = this.place.getBoundingClientRect();
    const at = this.from + ((event.clientX - box.left) / box.width * WIDE - EDGE) / (WIDE - 2 * EDGE) * this.span;
    const { rule } = this.now;
    const over = EDGE / (WIDE - 2 * EDGE) * this.span;
    const held = Math.min(Math.max(at, this.from - over, 0), this.from + this.span + over);
    this.value = Math.round(held / rule.step) * rule.step;
    this.draw();
    this.picked(this.value);
  }

  draw() {
    const { rule, due, limit } = this.now, made = document.createElementNS(SVG, "svg");
    made.setAttribute("viewBox", `0 0 ${WIDE} ${TALL}`);
    const add = (tag, given, text) => {
      const one = made.appendChild(document.createElementNS(SVG, tag));
      for (const [name, said] of Object.entries(given)) one.setAttribute(name, said);
      if (text !== undefined) one.textContent = text;
    };
    add("rect", { class: "rule-body", x: 0, y: 34, width: WIDE, height: TALL - 34, rx: 4 });
    const clip = (value) => Math.min(Math.max(this.x(value), 0), WIDE);
    if (limit > 0 && clip(due + limit) > clip(due - limit)) add("rect", { class: "rule-limit", x: clip(due - limit), y: 34, width: clip(due + limit) - clip(due - limit), height: TALL - 34 });
    const over = Math.ceil(EDGE / (WIDE - 2 * EDGE) * this.span / rule.step) - 1;
    const first = Math.max(0, Math.round(this.from / rule.step) - over), last = Math.round((this.from + this.span) / rule.step) + over;
    for (let n = first; n <= last; n += 1) {
      const [tall, said] = mark(n, rule), x = this.x(n * rule.step);
      add("line", { class: tall > 0.8 ? "rule-tick whole" : "rule-tick", x1: x, x2: x, y1: 34, y2: 34 + tall * 86 });
      if (said) add("text", { class: tall > 0.8 ? "rule-number whole" : "rule-number", x, y: tall > 0.8 ? 160 : 34 + tall * 86 + 24 }, said);
    }
    const where = (value) => value !== null && this.x(value) >= 0 && this.x(value) <= WIDE;
    if (where(due)) add("path", { class: "rule-due", d: `M${this.x(due)} 34 l-9 -16 h18 z` });
    if (where(this.value)) {
      const x = this.x(this.value);
      add("line", { class: "rule-read", x1: x, x2: x, y1: 22, y2: TALL });
      add("circle", { class: "rule-read-head", cx: x, cy: 16, r: 13 });
    }
    this.place.replaceChildren(made);
  }
}

/** How tall a division is, as a share, and what stands at it. */
function mark(n, rule) {
  if (rule.unit === "mm") {
    const tenths = Math.round(n * rule.step * 10);
    if (tenths % 100 === 0 || (rule.step < 0.5 && tenths % 10 === 0)) return [0.9, String(tenths / 10)];
    if (tenths % 50 === 0 || (rule.step < 0.5 && tenths % 5 === 0)) return [0.66, rule.step < 0.5 ? "" : String(tenths / 10)];
    return [tenths % 10 === 0 ? 0.48 : 0.26, ""];
  }
  const rest = n % rule.parts, by = common(rest, rule.parts), under = rule.parts / by;
  if (!rest) return [0.9, String(n / rule.parts)];
  const tall = { 2: 0.7, 4: 0.56, 8: 0.44, 16: 0.33 }[under] ?? 0.2;
  return [tall, under <= 8 ? `${rest / by}/${under}` : ""];
}
