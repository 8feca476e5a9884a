// One reading, filling the tablet: the rule, the whole number on keys, then what the program says to it.
import { Rule, asMm, fromMm, read, written } from "./bench_rule.js";
import { box } from "./bench_queue.js";

export const capital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);
const today = () => { const now = new Date(); return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10); };

export class Readout {
  constructor(dialog, queue, { next, closed }) {
    Object.assign(this, { dialog, queue, next });
    this.text = dialog.querySelector("#readout-text");
    this.hint = dialog.querySelector("#readout-hint");
    this.told = dialog.querySelector("#readout-told");
    this.form = dialog.querySelector("form");
    this.rule = new Rule(dialog.querySelector("#rule"), (value) => this.set(value, { still: true }));
    dialog.addEventListener("click", (event) => this.tapped(event));
    dialog.addEventListener("keydown", (event) => this.pressed(event));
    dialog.addEventListener("close", () => { this.point = null; closed(); });
    this.form.addEventListener("submit", (event) => { event.preventDefault(); event.stopPropagation(); this.keep(); });
    this.text.addEventListener("input", () => this.typed());
  }

  /** The box that is being read. */
  get box() { return this.last ?? ""; }

  open(point, text) {
    const held = this.queue.held;
    const asked = held.asked.find((one) => box(one) === box(point));
    if (asked && text === undefined) return this.ask(asked);
    this.point = point;
    this.last = box(point);
    this.scale(point.rule.unit);
    this.fresh = true;
    this.title(`${point.label}${point.at ? `, ${point.at}` : ""}`, `Due ${point.due}${point.limit ? `, ${point.limit}` : ""}`);
    this.pick(false);
    this.text.value = text ?? held.drafts[box(point)] ?? "";
    if (!this.dialog.open) this.dialog.showModal();
    this.typed();
    this.rule.place.focus();
  }

  /** Put the question about a reading. */
  ask(one) {
    if (!one) return;
    const { answer } = one;
    this.point = null;
    this.last = box(one);
    this.title(`${one.label}${one.at ? `, ${one.at}` : ""}`, `${one.value} was read`);
    const lines = [...answer.doubts.map((doubt) => doubt.said), ...answer.problems];
    const again = { ...one };
    for (const key of ["answer", "key"]) delete again[key];
    const meant = answer.doubts.filter((doubt) => doubt.meant).map((doubt) => [`It is ${doubt.meant}`, () => this.send({ ...again, value: doubt.meant })]);
    const right = answer.problems.length ? [] : [[`${one.value} is right: write it down`, () => this.send({ ...again, sure: "yes" })]];
    const reread = one.point ? [["Read it again", () => { this.queue.drop(one.key); this.open(one.point, ""); }, "main"]] : [];
    this.tell("Look once more", lines, [...reread, ...meant, ...right, ["Drop it", () => { this.queue.drop(one.key); this.dialog.close(); }, "quiet"]], "doubt");
    if (!this.dialog.open) this.dialog.showModal();
  }

  title(text, due) {
    this.dialog.querySelector("#readout-title").textContent = text;
    this.dialog.querySelector("#readout-due").textContent = due;
  }

  pick(isTold) {
    this.form.hidden = isTold;
    this.told.hidden = !isTold;
  }

  /** The rule in one unit or the other. */
  scale(unit) {
    const own = this.point.rule;
    this.now = unit === own.unit ? own : unit === "mm" ? { unit: "mm", step: 0.5, parts: 0 } : { unit: "in", step: 1 / 32, parts: 32 };
    for (const button of this.dialog.querySelectorAll("[data-unit]")) button.setAttribute("aria-pressed", String(button.dataset.unit === unit));
    const part = unit === "mm" ? `${this.now.step} mm` : written(this.now.step, this.now);
    for (const span of this.dialog.querySelectorAll("[data-part]")) span.textContent = part;
    this.dialog.querySelector("#pad-title").textContent = unit === "mm" ? "Whole millimetres" : "Whole inches";
  }

  get value() { return read(this.text.value, this.now.unit); }

  /** Put a value in, from rule, keys or nudge. */
  set(value, { still = false } = {}) {
    this.text.value = written(Math.max(0, value), this.now);
    this.looked(still);
  }

  typed() {
    const found = this.value;
    if (found && found.unit !== this.now.unit) this.scale(found.unit);
    this.looked(false);
  }

  looked(still) {
    const { point, now } = this, found = this.value;
    const due = fromMm(point.dueMm, now.unit), limit = fromMm(point.limitMm, now.unit);
    if (!still) this.rule.show({ rule: now, value: found?.value ?? null, due, limit });
    this.queue.draft(point, this.text.value.trim());
    const place = this.rule.place;
    place.setAttribute("aria-valuemax", String(Math.ceil(due * 2)));
    place.setAttribute("aria-valuenow", String(found?.value ?? due));
    place.setAttribute("aria-valuetext", this.text.value || "nothing yet");
    const off = found ? asMm(found.value, now.unit) - point.dueMm : 0;
    const beyond = point.limitMm > 0 && Math.abs(off) > point.limitMm + 0.05;
    const kind = !found ? "" : Math.abs(off) > point.farMm ? "far" : beyond ? "beyond" : "within";
    this.hint.className = `readout-hint ${kind}`;
    const by = written(fromMm(Math.abs(off), now.unit), now), way = off > 0 ? "more" : "less";
    this.hint.textContent = !found ? (this.text.value ? "As you write it; the program reads it." : "\u00a0")
      : Math.abs(off) < 0.05 ? "as planned" : Math.abs(off) > point.farMm ? `${by} ${way} than planned: it will be questioned` : `${by} ${way} than planned${beyond ? `, beyond ${point.limit}` : ""}`;
  }

  /** What is read so far, or what is due where nothing is. */
  get base() { return this.value?.value ?? Math.round(fromMm(this.point.dueMm, this.now.unit) / this.now.step) * this.now.step; }

  nudge(by) {
    const n = this.base / this.now.step, whole = Math.round(n);
    const next = Math.abs(n - whole) < 1e-6 ? whole + by : by > 0 ? Math.ceil(n) : Math.floor(n);
    this.set(next * this.now.step);
    this.fresh = true;
  }

  /** A key of the pad: the whole number, the fraction stays. The first key after another hand begins a number anew. */
  digit(key) {
    const base = this.value?.value ?? 0, whole = Math.floor(base + 1e-9), rest = base - whole;
    const text = this.fresh && key !== "back" ? "" : String(whole);
    const now = key === "clear" ? "" : key === "back" ? text.slice(0, -1) : text + key;
    this.fresh = key === "clear";
    this.set(Number(now.slice(-5) || 0) + rest);
  }

  tapped(event) {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.do === "close") this.dialog.close();
    else if (button.dataset.do === "keep") this.keep();
    else if (button.dataset.nudge) this.nudge(Number(button.dataset.nudge));
    else if (button.dataset.digit) this.digit(button.dataset.digit);
    else if (button.dataset.unit && button.dataset.unit !== this.now.unit) {
      const found = this.value;
      this.scale(button.dataset.unit);
      if (found) this.set(fromMm(asMm(found.value, found.unit), this.now.unit));
      else this.looked(false);
    }
  }

  pressed(event) {
    if (!this.point || event.target === this.text || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (by && event.target === this.rule.place) this.nudge(by);
    else if (/^[0-9]$/.test(event.key)) this.digit(event.key);
    else if (event.key === "Backspace") this.digit("back");
    else if (event.key === "Enter" && !event.target.closest("button")) this.keep();
    else return;
    event.preventDefault();
  }

  keep() {
    const { point, now } = this, typed = this.text.value.trim();
    if (!typed) {
      this.hint.className = "readout-hint far";
      this.hint.textContent = "Nothing was read yet. Tap the rule where the tape reads.";
      return;
    }
    const value = /[a-z"″']\s*$/i.test(typed) ? typed : `${typed} ${now.unit}`;
    this.send({ kind: "reading", step: point.step, name: point.name, label: point.label, at: point.at, value, when: today(), point });
  }

  send(item) {
    this.point = null;
    this.sent = this.queue.add(item).key;
    this.last = box(item);
    this.title(`${item.label}${item.at ? `, ${item.at}` : ""}`, item.value);
    if (this.queue.away) this.waits();
    else this.tell("On its way", ["It is being written down."], this.onward(), "sent");
  }

  waits() {
    this.tell("It waits on this tablet", ["There is no connection. It is sent when the connection is back, once, in its order."], this.onward());
  }

  /** The connection broke while a reading was on its way. */
  cut() {
    const waits = this.queue.held.waiting.some((one) => one.key === this.sent);
    if (this.dialog.open && !this.told.hidden && waits && this.told.dataset.stage === "sent") this.waits();
  }

  answered(item, answer) {
    if (!this.dialog.open || item.key !== this.sent || this.told.hidden) return;
    if (!answer.kept) return this.ask(this.queue.held.asked.find((one) => one.key === item.key));
    this.tell("Written down", [answer.compared].filter(Boolean), this.onward(), "good", answer.lines);
  }

  onward() {
    const next = this.next();
    const on = next ? [[`Next: ${next.at ? `${next.at}, ` : ""}${next.label}`, () => this.open(next), "main"]] : [];
    return [...on, ["Back to the step", () => this.dialog.close(), next ? "" : "main"]];
  }

  tell(heading, lines, buttons, kind = "", moved = []) {
    const made = (tag, text, name = "") => Object.assign(document.createElement(tag), { textContent: text, className: name });
    const list = made("ul", "");
    list.append(...moved.map((line) => made("li", capital(line.replace("->", "→")))));
    const row = made("div", "", "readout-buttons");
    row.append(...buttons.map(([said, act, name = ""]) => {
      const button = made("button", said, name);
      button.type = "button";
      button.addEventListener("click", (event) => { event.stopPropagation(); act(); });
      return button;
    }));
    this.told.className = `readout-told ${kind}`;
    this.told.dataset.stage = kind === "sent" ? "sent" : "";
    this.told.replaceChildren(made("h3", heading), ...lines.map((line) => made("p", line)), ...(moved.length ? [made("h4", "What moved because of it"), list] : []), row);
    this.pick(true);
    row.querySelector("button")?.focus();
  }
}
