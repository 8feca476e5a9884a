// Options side by side: one head before all of them, one scale, one board that draws them in turn.
import { Refused, fetchAsset } from "./look-asset.js";
import { addressOf, pictureFrom } from "./look-content.js";
import { mixOf } from "./look-gl.js";
import { headOn, within } from "./look-head.js";
import { View } from "./look-view.js";

const form = document.getElementById("look");
const canvases = [...document.querySelectorAll("canvas[data-from]")];
const query = () => new URLSearchParams(new FormData(form));
const on = (name) => document.querySelector(`input[name="${name}"]`)?.checked;
let view = null;
try { view = canvases.length ? View.of(canvases) : null; } catch (error) { console.warn(error.message); }

const saidOf = (canvas) => canvas.parentElement.querySelector(".look-said");
function told(canvas, text) { saidOf(canvas).textContent = text; saidOf(canvas).hidden = !text; }

function still() {
  for (const canvas of canvases) {
    const image = canvas.parentElement.querySelector("img") ?? Object.assign(document.createElement("img"), { width: 1120, height: 630 });
    image.alt = canvas.getAttribute("aria-label");
    image.src = `${canvas.dataset.from}/still.png?${query()}`;
    canvas.parentElement.prepend(image);
  }
}

function visit() {
  const viewers = view.panes.find((pane) => pane.asset)?.asset.viewers;
  const one = viewers?.find(({ id }) => id === query().get("viewer")) ?? viewers?.[0];
  if (!one) return;
  view.home = { x: one.x_mm, y: one.y_mm, away: one.distance_mm };
  view.eye = { ...view.home, viewer: one.id };
}

function lit() { view.lit = { screen: on("screen") ? 1 : 0, lights: on("lights") ? 1 : 0, mix: mixOf(null) }; }

async function piece(pane) {
  const { canvas } = pane;
  told(canvas, "Reckoning what there is to see …");
  try {
    const asset = await fetchAsset(canvas.dataset.from);
    const picture = asset.screen && (await pictureFrom(addressOf(canvas.dataset.from, "night-sky"), asset.screen));
    view.put(pane, asset, picture);
    if (!view.eye) visit();
    view.ask();
    told(canvas, "");
  } catch (error) {
    told(canvas, error instanceof Refused ? error.message : "The program could not draw this.");
  }
}

for (const control of form.elements) control.addEventListener("change", ({ target }) => {
  history.replaceState(null, "", `?${query()}`);
  if (!view) return still();
  if (target.name === "viewer") visit();
  lit();
  view.ask();
});
form.addEventListener("submit", (event) => event.preventDefault());

if (view) {
  for (const one of document.querySelectorAll(".live-only")) one.hidden = false;
  for (const canvas of canvases) canvas.hidden = false;
  lit();
  const go = (eye, more = true) => {
    const is = within(eye, 8000);
    const moved = ["x", "y", "away"].some((name) => is[name] !== view.eye[name]);
    view.eye = is;
    view.ask(more);
    clearTimeout(go.rest);
    if (more) go.rest = setTimeout(() => view.ask(), 200);
    return moved;
  };
  for (const canvas of canvases) headOn(canvas, { now: () => view.eye, go, home: () => { visit(); view.ask(); } });
  (async () => { for (const pane of view.panes) await piece(pane); })();
} else if (canvases.length) still();
