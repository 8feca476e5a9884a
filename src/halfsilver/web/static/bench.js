// The bench with a script: all steps at hand without a connection, readings on a rule, a queue that loses nothing.
import { Queue, box } from "./bench_queue.js";
import { Readout, capital } from "./bench_readout.js";

const BEAT_MS = 8_000, AHEAD_MS = 1_500;
const bench = document.getElementById("bench");
if (bench) begin();

function begin() {
  const job = bench.dataset.job, banner = document.getElementById("banner");
  const bar = document.getElementById("bench-bar"), place = document.getElementById("bench-card"), askedPlace = document.getElementById("bench-asked");
  const steps = new Map(), drawings = new Map();
  let here = bench.dataset.step, number = Number(bench.dataset.number), moved = null, quiet = 0, ahead = 0;
  bench.classList.add("live");

  const queue = new Queue(job, { changed, answered });
  const readout = new Readout(document.getElementById("readout"), queue, { next: nextBox, closed: paint });

  const first = place.querySelector("[data-drawing] svg");
  if (first) drawings.set(first.parentElement.dataset.drawing, first.outerHTML);

  // Steps ------------------------------------------------------------------------------------------------------------

  /** Every step as it now is; where there is no connection, those at hand stay. */
  async function load() {
    try {
      const answer = await fetch(`/jobs/${job}/bench/all/steps`, { cache: "no-store" });
      if (!answer.ok) return;
      const all = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("bench-all");
      if (Number(all.dataset.number) !== number) drawings.clear();
      number = Number(all.dataset.number);
      steps.clear();
      for (const one of all.children) steps.set(one.dataset.step, { bar: one.querySelector(".bar").innerHTML, card: one.querySelector(".card").innerHTML });
      show(here, { still: true });
      bench.dataset.atHand = String(steps.size);
      clearTimeout(ahead);
      ahead = setTimeout(fetchAhead, AHEAD_MS);
    } catch { /* no connection: the beat tells */ }
  }

  /** The drawings of the other steps, once nobody waits for anything: they are at hand then without a connection. */
  async function fetchAhead() {
    try {
      for (const { card } of [...steps.values()]) await drawing(/data-drawing="([^"]+)"/.exec(card)?.[1]);
    } catch { /* no connection: the beat tells */ }
  }

  async function drawing(name) {
    if (!name || drawings.has(name)) return drawings.get(name);
    const asked = number;
    const answer = await fetch(`/jobs/${job}/bench/all/drawing/${encodeURIComponent(name)}.svg`);
    const text = answer.ok ? await answer.text() : "";
    if (asked === number && text) drawings.set(name, text);
    return text;
  }

  function show(step, { still = false } = {}) {
    const found = steps.get(step);
    if (!found) return false;
    const wasOpen = still && bar.querySelector("details")?.open, at = document.activeElement;
    const hold = still && at && place.contains(at) ? at.closest("[data-at]")?.dataset.at : undefined;
    here = step;
    bar.innerHTML = found.bar;
    place.innerHTML = found.card;
    bar.querySelector("details").open = Boolean(wasOpen);
    for (const token of place.querySelectorAll('input[name="token"]')) token.value = document.body.dataset.token;
    const figure = place.querySelector("[data-drawing]");
    if (figure) drawing(figure.dataset.drawing).then((text) => { if (text) figure.innerHTML = text; }, () => {});
    paint();
    if (!still) {
      moved = null;
      place.querySelector("#card-title").focus({ preventScroll: true });
      bench.scrollIntoView({ block: "start" });
    } else if (hold !== undefined) place.querySelector(`[data-at="${CSS.escape(hold)}"]`)?.focus({ preventScroll: true });
    return true;
  }

  function go(step) {
    if (show(step)) history.pushState({ step }, "", `/jobs/${job}/bench/${encodeURIComponent(step)}`);
  }

  // What waits, what is questioned ------------------------------------------------------------------------------------

  function paint() {
    const { waiting, asked, drafts } = queue.held;
    for (const one of place.querySelectorAll(".box")) {
      const at = box(pointOf(one));
      one.classList.toggle("waits", waiting.some((item) => box(item) === at));
      one.classList.toggle("asks", asked.some((item) => box(item) === at));
      one.classList.toggle("draft", at in drafts && !one.matches(".waits, .asks"));
      const held = waiting.findLast((item) => box(item) === at) ?? asked.find((item) => box(item) === at);
      one.dataset.value ??= one.querySelector(".box-value").textContent;
      one.dataset.said ??= one.querySelector(".box-said").textContent;
      one.querySelector(".box-value").textContent = held?.value ?? drafts[at] ?? one.dataset.value;
      one.querySelector(".box-said").textContent = one.matches(".waits") ? "waits to be sent" : one.matches(".asks") ? "look once more" : one.matches(".draft") ? "not written down" : one.dataset.said;
    }
    for (const item of waiting.filter((item) => item.kind === "done")) {
      const tick = bar.querySelector(`[data-tick="${item.step}"]`), mark = bar.querySelector(`[data-mark="${item.step}"]`);
      tick?.classList.toggle("done", item.done === "yes");
      if (mark) mark.textContent = item.done === "yes" ? "✓" : "";
    }
    for (const time of place.querySelectorAll("time[data-local]")) time.textContent = new Date(time.dateTime).toLocaleString([], { weekday: "short", hour: "2-digit", minute: "2-digit" });
    place.querySelector(".told.fresh")?.remove();
    if (moved && moved.step === here) place.querySelector(".points")?.after(told(moved));
    askedPlace.hidden = !asked.length;
    askedPlace.replaceChildren(...asked.map((item) => {
      const button = document.createElement("button");
      button.type = "button";
      button.dataset.ask = item.key;
      button.append(Object.assign(document.createElement("b"), { textContent: "Look once more" }), ` ${item.label ?? item.step}${item.at ? `, ${item.at}` : ""}: ${item.value ?? ""}`);
      return button;
    }));
  }

  function told({ said, lines }) {
    const part = document.createElement("section"), list = document.createElement("ul");
    part.className = "told good fresh";
    list.append(...lines.map((line) => Object.assign(document.createElement("li"), { textContent: capital(line.replace("->", "→")) })));
    part.append(Object.assign(document.createElement("h3"), { textContent: `What moved: ${said}` }), list);
    return part;
  }

  function changed(isBack = false) {
    paint();
    const count = queue.held.waiting.length, what = count === 1 ? "1 entry waits" : `${count} entries wait`;
    if (queue.away) {
      readout.cut();
      banner.dataset.kind = "";
      banner.textContent = `No connection. Go on working: ${count ? `${what} on this tablet and` : "what you read"} will be sent when it is back.`;
      banner.hidden = false;
    } else if (isBack) {
      banner.dataset.kind = "good";
      banner.textContent = count ? `The connection is back. ${capital(what)} to be sent.` : "The connection is back.";
      banner.hidden = false;
      clearTimeout(quiet);
      quiet = setTimeout(() => { if (!queue.away) banner.hidden = true; }, 4_000);
      queue.send();
    }
  }

  async function answered(item, answer) {
    if (answer.kept && item.kind !== "done") moved = { step: item.step, said: `${item.label}${item.at ? `, ${item.at}` : ""}, ${item.value}`, lines: answer.lines };
    readout.answered(item, answer);
    if (answer.kept) await load();
    else paint();
  }

  // Hands ------------------------------------------------------------------------------------------------------------

  function pointOf(button) {
    const { name, label, due, limit, dueMm, limitMm, farMm, unit, step, parts } = button.closest(".point").dataset;
    const rule = { unit, step: Number(step), parts: Number(parts) };
    return { kind: "reading", step: here, name, label, at: button.dataset.at, due, limit, dueMm: Number(dueMm), limitMm: Number(limitMm), farMm: Number(farMm), rule };
  }

  /** The next box of this step that holds nothing yet. */
  function nextBox() {
    const boxes = [...place.querySelectorAll(".box")], last = boxes.findIndex((one) => box(pointOf(one)) === readout.box);
    const order = [...boxes.slice(last + 1), ...boxes.slice(0, Math.max(last, 0))];
    const found = order.find((one) => !one.matches(".has, .waits, .asks"));
    return found ? pointOf(found) : null;
  }

  document.addEventListener("click", (event) => {
    const to = event.target.closest("a[data-to]"), tapped = event.target.closest(".box"), ask = event.target.closest("[data-ask]");
    const plain = !(event.ctrlKey || event.metaKey || event.shiftKey || event.button);
    if (to && plain && steps.has(to.dataset.to)) { event.preventDefault(); go(to.dataset.to); }
    else if (tapped) readout.open(pointOf(tapped));
    else if (ask) readout.ask(queue.held.asked.find((one) => one.key === ask.dataset.ask));
    else if (event.target.closest("[data-drawing]")) event.target.closest("[data-drawing]").classList.toggle("large");
  });
  bench.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches(".onward")) return;
    event.preventDefault();
    event.stopPropagation();
    const isDone = event.submitter?.value !== "no", next = form.elements.next?.value;
    queue.add({ kind: "done", step: here, label: place.querySelector("#card-title").textContent, done: isDone ? "yes" : "no" });
    if (isDone && next && steps.has(next)) go(next);
  });
  window.addEventListener("popstate", () => {
    const step = decodeURIComponent(location.pathname.split("/").pop());
    if (!show(step)) location.reload();
  });

  async function beat() {
    if (document.hidden) return;
    const stands = await queue.number();
    if (stands !== null && (stands !== number || !steps.size)) await load();
    if (stands !== null) queue.send();
  }
  setInterval(beat, BEAT_MS);
  window.addEventListener("online", beat);
  changed();
  load().then(() => queue.send());
}
