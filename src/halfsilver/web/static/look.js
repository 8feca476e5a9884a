// The look: one piece, one head, its switches, and the numbers that belong to where the head is.
import { Refused, fetchAsset } from "./look-asset.js";
import { addressOf, pictureFrom } from "./look-content.js";
import { mixOf } from "./look-gl.js";
import { headOn, within } from "./look-head.js";
import { Plan } from "./look-plan.js";
import { View } from "./look-view.js";

const page = document.getElementById("looked");
const form = document.getElementById("look");
const by = (id) => document.getElementById(id);
const field = (name) => form.elements[name];

if (page) start();

function start() {
  const { from, units } = page.dataset;
  const jobDim = Number(page.dataset.dim) || 1;
  const canvas = by("view");
  const people = JSON.parse(by("plan").dataset.viewers);
  const farthest = Math.max(6000, ...people.map(({ away }) => 1.6 * away));
  const assets = new Map();
  let view = null;
  try { view = View.of([canvas]); } catch (error) { console.warn(error.message); }
  const pane = view?.panes[0];
  let plan = null;
  let [own, shownName, asking, counting] = [null, "", null, null];

  /** What the form says, as an address says it. */
  const query = () => new URLSearchParams([...new FormData(form)].filter(([, value]) => value !== ""));
  const tried = () => new URLSearchParams([...query()].filter(([name]) => ["front", "rear", "gap"].includes(name)));
  const told = (text) => { by("view-said").textContent = text; by("view-said").hidden = !text; };
  const unreachable = () => told("The program cannot be reached. Look again when it is back.");

  // Numbers -----------------------------------------------------------------------------------------------------------
  function number() {
    clearTimeout(counting);
    counting = setTimeout(async () => {
      asking?.abort();
      asking = new AbortController();
      const asked = query();
      if (view?.eye) {
        const { eye, lit } = view;
        for (const [name, value] of Object.entries({ x: eye.x, y: eye.y, away: eye.away, dim: lit.lights, shown: lit.screen })) asked.set(name, value.toFixed(4));
      }
      try {
        const answer = await fetch(`${from}/numbers?${asked}`, { signal: asking.signal });
        if (answer.ok) by("numbers").innerHTML = await answer.text();
      } catch (error) { if (error.name !== "AbortError") unreachable(); }
    }, 220);
  }

  // The head ----------------------------------------------------------------------------------------------------------
  const length = (mm) => {
    if (units !== "in") return Math.abs(mm) < 995 ? `${Math.round(mm / 10)} cm` : `${(mm / 1000).toFixed(2)} m`;
    const inches = Math.round(Math.abs(mm) / 25.4);
    const [feet, rest] = [Math.floor(inches / 12), inches % 12];
    return feet ? `${feet} ft${rest ? ` ${rest} in` : ""}` : `${inches} in`;
  };
  const slides = [
    ["at-x", "x", (mm) => (Math.abs(mm) < 5 ? "middle" : `${length(Math.abs(mm))} ${mm > 0 ? "right" : "left"}`)],
    ["at-away", "away", length],
    ["at-y", "y", (mm) => (Math.abs(mm) < 5 ? "level" : `${length(Math.abs(mm))} ${mm > 0 ? "above" : "below"}`)],
  ];
  function place() {
    for (const [id, name, words] of slides) {
      by(id).value = view.eye[name];
      by(id).nextElementSibling.value = words(view.eye[name]);
      by(id).setAttribute("aria-valuetext", words(view.eye[name]));
    }
    plan?.at(view.eye);
  }
  /** Move the head; true if it moved. */
  function go(eye, more = true) {
    const [was, is] = [view.eye, within(eye, farthest)];
    if (more && was.x === is.x && was.y === is.y && was.away === is.away) return false;
    view.eye = is;
    place();
    view.ask(more);
    if (more) { clearTimeout(go.rest); go.rest = setTimeout(() => view.ask(), 200); }
    number();
    return true;
  }
  function visit(id) {
    const one = people.find((some) => some.id === id) ?? people[0];
    view.home = { x: one.x, y: one.y, away: one.away };
    view.eye = { ...view.home, viewer: one.id };
    canvas.setAttribute("aria-label", canvas.getAttribute("aria-label").replace(/, as .* sees it$/, `, as ${one.id} sees it`));
    place();
    view.ask();
  }
  const chosen = () => query().get("viewer");

  // Lights and screen -------------------------------------------------------------------------------------------------
  let colour = null;
  function lit() {
    const on = (name) => Boolean(field(name)?.checked);
    const dim = by("dim") ? Number(by("dim").value) / 100 : jobDim;
    view.lit = { screen: on("screen") ? Number(by("shown")?.value ?? 100) / 100 : 0, lights: on("lights") ? dim / jobDim : 0, mix: mixOf(colour) };
    for (const id of ["dim", "shown"]) if (by(id)) by(id).nextElementSibling.value = `${by(id).value} %`;
    if (by("kelvin")) by("kelvin").nextElementSibling.value = colour === null ? "the job's" : `${colour} K`;
    for (const [id, name] of [["dim", "lights"], ["kelvin", "lights"], ["hue", "lights"], ["shown", "screen"]]) if (by(id)) by(id).disabled = !on(name);
  }
  const linear = (code) => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4);
  /** What of the lights can go into the job: empty is as the job has it. */
  function keepingLight() {
    const fields = by("keep-light")?.elements;
    if (!fields) return;
    const mixed = Array.isArray(colour) ? colour.map((one) => (one / (Math.max(...colour) || 1)).toFixed(3)) : ["", "", ""];
    fields.dim.value = by("dim").value === by("dim").defaultValue ? "" : String(Number(by("dim").value) / 100);
    fields.colour.value = typeof colour === "number" ? `${colour} K` : "";
    [fields.red.value, fields.green.value, fields.blue.value] = mixed;
    by("keep-light").querySelector("button").disabled = ![fields.dim.value, fields.colour.value, ...mixed].some(Boolean);
  }
  const hue = () => [1, 3, 5].map((k) => linear(parseInt(by("hue").value.slice(k, k + 2), 16) / 255));

  async function content() {
    if (!pane.asset?.screen) return;
    const name = own ? "chosen" : field("content").value;
    const wanted = `${name} ${pane.asset.screen.gamma ?? ""}`;
    if (!own && shownName === wanted) return;
    shownName = wanted;
    try {
      view.content(pane, await pictureFrom(own ?? addressOf(from, name), pane.asset.screen));
    } catch (error) { told(own ? "This file is not a picture that can be shown." : error.message); own = null; }
  }

  // The piece ---------------------------------------------------------------------------------------------------------
  async function piece() {
    const wanted = tried();
    const key = String(wanted);
    if (!assets.has(key)) told(pane.asset ? "Reckoning it with the other glass …" : "Reckoning what there is to see …");
    by("tries-said").textContent = "";
    try {
      if (!assets.has(key)) assets.set(key, await fetchAsset(from, key));
      if (String(tried()) !== key) return;
      view.put(pane, assets.get(key));
      await content();
      told("");
    } catch (error) {
      if (!(error instanceof Refused)) return unreachable();
      told("");
      by("tries-said").textContent = error.message;
    }
  }
  function keeping() {
    const now = tried();
    for (const name of ["front", "rear", "gap"]) by("keep").elements[name].value = now.get(name) ?? "";
    by("keep").querySelector("button").disabled = ![...now].length;
    by("as-it-stands").hidden = ![...now].length;
  }

  // Where it cannot be drawn here, the program's own stills -----------------------------------------------------------
  function still() {
    const figure = canvas.parentElement;
    const image = figure.querySelector("img") ?? Object.assign(document.createElement("img"), { width: 1120, height: 630 });
    image.alt = canvas.getAttribute("aria-label");
    told("The program draws it. This takes a moment.");
    image.onload = () => told("");
    image.onerror = () => told("There is no picture of this.");
    image.src = `${from}/still.png?${query()}`;
    figure.prepend(image);
  }

  form.addEventListener("submit", (event) => { event.preventDefault(); change({ target: {} }); });
  function change({ target }) {
    history.replaceState(null, "", `?${query()}`);
    keeping();
    if (!view) { still(); number(); return; }
    if (target.name === "viewer") visit(target.value);
    if (target.name === "content") { own = null; by("picture").value = ""; content(); }
    lit();
    view.ask();
    if ("tries" in (target.dataset ?? {})) piece();
    number();
  }
  for (const control of form.elements) control.addEventListener("change", change);
  by("picture")?.addEventListener("change", () => { if (view && by("picture").files.length) { own = by("picture").files[0]; content(); } });
  keeping();
  if (!view) return still();

  for (const one of document.querySelectorAll(".live-only")) one.hidden = false;
  canvas.hidden = false;
  view.home = people[0];
  visit(chosen());
  lit();
  for (const [id, name, step] of [["at-x", "x", 10], ["at-away", "away", 10], ["at-y", "y", 10]]) {
    const most = { x: Math.max(2500, farthest / 2), away: farthest, y: 1400 }[name];
    Object.assign(by(id), { min: name === "away" ? 350 : -most, max: most, step });
    by(id).addEventListener("input", () => go({ ...view.eye, [name]: Number(by(id).value) }));
  }
  for (const id of ["dim", "shown", "kelvin", "hue"]) by(id)?.addEventListener("input", () => {
    if (id === "kelvin") colour = Number(by("kelvin").value);
    if (id === "hue") colour = hue();
    lit();
    keepingLight();
    view.ask(true);
    number();
  });
  by("own-light")?.addEventListener("click", () => {
    colour = null;
    for (const id of ["dim", "shown", "kelvin", "hue"]) if (by(id)) by(id).value = by(id).defaultValue;
    lit();
    keepingLight();
    view.ask();
    number();
  });
  let paper = null;
  window.addEventListener("beforeprint", () => {
    if (!pane.piece || !pane.width) return;
    paper = view.copy(pane);
    canvas.parentElement.append(paper);
  });
  window.addEventListener("afterprint", () => paper?.remove());
  headOn(canvas, { now: () => view.eye, go, home: () => { visit(chosen()); number(); } });
  piece().then(() => {
    if (!pane.asset) return;
    plan = new Plan(by("plan"), people, pane.asset.frame.width_mm, farthest, {
      go: (x, away, more) => go({ ...view.eye, x, away }, more),
      visit: (id) => { for (const one of document.querySelectorAll(`input[name="viewer"]`)) one.checked = one.value === id; change({ target: { name: "viewer", value: id } }); },
    });
    place();
  });
}
