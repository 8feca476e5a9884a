// A drawing that can be moved and zoomed by mouse, wheel, fingers or keys; a tap on a dimension asks for its reason.
const FINGER_PX = 22;
const figure = document.querySelector("[data-drawing]");
const picture = figure?.querySelector("svg");
for (const pick of document.querySelectorAll("select[data-go]")) pick.addEventListener("change", () => pick.form.submit());

if (picture) {
  const whole = picture.viewBox.baseVal;
  const all = { x: whole.x, y: whole.y, w: whole.width, h: whole.height };
  let now = { ...all };
  const held = new Map();
  let moved = 0;
  picture.removeAttribute("width");
  picture.removeAttribute("height");
  document.querySelector(".zoomers").hidden = false;

  const put = () => {
    picture.setAttribute("viewBox", `${now.x} ${now.y} ${now.w} ${now.h}`);
    figure.classList.toggle("zoomed", now.w < all.w * 0.999); // one finger moves the drawing then, and the page otherwise
  };
  /** Drawing's own place under a point of the screen. */
  const under = (x, y) => {
    const spot = new DOMPoint(x, y).matrixTransform(picture.getScreenCTM().inverse());
    return [spot.x, spot.y];
  };
  const zoom = (by, [x, y]) => {
    const w = Math.min(all.w, Math.max(all.w / 24, now.w / by));
    const k = w / now.w;
    now = { x: x - (x - now.x) * k, y: y - (y - now.y) * k, w, h: now.h * k };
    hold();
  };
  const hold = () => {
    now.x = Math.min(Math.max(now.x, all.x), all.x + all.w - now.w);
    now.y = Math.min(Math.max(now.y, all.y), all.y + all.h - now.h);
    put();
  };
  const middle = () => [now.x + now.w / 2, now.y + now.h / 2];
  /** The dimension whose figure is a finger's breadth away at most: small drawings have small figures. */
  const nearest = (x, y) => {
    const far = (one) => {
      const at = (one.querySelector("text") ?? one).getBoundingClientRect();
      return Math.hypot(Math.max(at.left - x, 0, x - at.right), Math.max(at.top - y, 0, y - at.bottom));
    };
    const [found] = [...picture.querySelectorAll('[data-kind="dimension"]')].map((one) => [far(one), one]).sort(([a], [b]) => a - b);
    return found?.[0] <= FINGER_PX ? found[1] : null;
  };
  const ask = (name) => window.htmx.ajax("GET", figure.dataset.why + encodeURIComponent(name), { target: "#why" });

  figure.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && now.w >= all.w && event.deltaY > 0) return; // the page scrolls on where there is nothing to zoom out
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 400), under(event.clientX, event.clientY));
  }, { passive: false });
  figure.addEventListener("pointerdown", (event) => { held.set(event.pointerId, [event.clientX, event.clientY]); moved = 0; });
  figure.addEventListener("pointermove", (event) => {
    const was = held.get(event.pointerId);
    if (!was) return;
    const is = [event.clientX, event.clientY];
    moved += Math.hypot(is[0] - was[0], is[1] - was[1]);
    if (held.size === 1 && moved > 6 && now.w < all.w) {
      const [a, b] = [under(...was), under(...is)];
      now.x += a[0] - b[0];
      now.y += a[1] - b[1];
      hold();
    } else if (held.size === 2) {
      const other = [...held].find(([id]) => id !== event.pointerId)[1];
      const far = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      zoom(far(is) / far(was), under((is[0] + other[0]) / 2, (is[1] + other[1]) / 2));
    }
    held.set(event.pointerId, is);
  });
  for (const end of ["pointerup", "pointercancel", "pointerleave"]) figure.addEventListener(end, (event) => held.delete(event.pointerId));
  figure.addEventListener("click", (event) => {
    if (moved >= 8) return;
    const hit = event.target.closest('[data-kind="dimension"]') ?? nearest(event.clientX, event.clientY);
    if (hit) ask(hit.dataset.name);
  });
  figure.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (step) { now.x += step[0] * now.w / 8; now.y += step[1] * now.h / 8; hold(); }
    else if (event.key === "+") zoom(1.4, middle());
    else if (event.key === "-") zoom(1 / 1.4, middle());
    else if (event.key === "0") { now = { ...all }; put(); }
    else return;
    event.preventDefault();
  });
  for (const button of document.querySelectorAll("[data-zoom]")) button.addEventListener("click", () => {
    if (button.dataset.zoom === "all") { now = { ...all }; put(); }
    else zoom(button.dataset.zoom === "in" ? 1.5 : 1 / 1.5, middle());
  });
}
// A reason asked for far down the ledger is brought into view.
document.addEventListener("htmx:afterSwap", (event) => {
  if (event.target.id === "why") event.target.scrollIntoView({ block: "nearest", behavior: "smooth" });
});
