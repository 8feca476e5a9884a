// Where the head is: moved on the picture by mouse, fingers and keys.
const NEAREST = 350;

/** Keep an eye where the piece can be looked at. */
export function within(eye, farthest) {
  const away = Math.min(Math.max(eye.away, NEAREST), farthest);
  const aside = Math.min(farthest, 2.6 * away + 400);
  return { ...eye, away, x: Math.min(Math.max(eye.x, -aside), aside), y: Math.min(Math.max(eye.y, -1400), 1400) };
}

/** Let a canvas move the head: `now()` gives the eye with the picture's half width, `go(eye)` takes it further, `home()` back. */
export function headOn(canvas, { now, go, home }) {
  const held = new Map();
  const far = ([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]) || 1;
  canvas.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    held.set(event.pointerId, [event.clientX, event.clientY]);
    canvas.setPointerCapture(event.pointerId);
    canvas.classList.add("held");
  });
  canvas.addEventListener("pointermove", (event) => {
    const was = held.get(event.pointerId);
    if (!was) return;
    const is = [event.clientX, event.clientY];
    const eye = now();
    if (held.size === 2) {
      const other = [...held].find(([id]) => id !== event.pointerId)[1];
      go({ ...eye, away: (eye.away * far([was, other])) / far([is, other]) });
    } else {
      const mm = (2 * eye.half * eye.away) / canvas.clientWidth;
      go({ ...eye, x: eye.x + (is[0] - was[0]) * mm, y: eye.y - (is[1] - was[1]) * mm });
    }
    held.set(event.pointerId, is);
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (event) => {
    if (held.delete(event.pointerId)) go(now(), false);
    if (!held.size) canvas.classList.remove("held");
  });
  canvas.addEventListener("wheel", (event) => {
    const eye = now();
    const moved = go({ ...eye, away: eye.away * Math.exp(event.deltaY * (event.deltaMode ? 0.03 : 0.001)) });
    if (moved) event.preventDefault(); // the page scrolls on where there is no further to go
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const [eye, far_] = [now(), event.shiftKey ? 200 : 40];
    const step = { ArrowLeft: { x: -far_ }, ArrowRight: { x: far_ }, ArrowUp: { y: far_ }, ArrowDown: { y: -far_ } }[event.key];
    if (step) go({ ...eye, x: eye.x + (step.x ?? 0), y: eye.y + (step.y ?? 0) });
    else if (event.key === "+" || event.key === "=") go({ ...eye, away: eye.away / 1.08 });
    else if (event.key === "-") go({ ...eye, away: eye.away * 1.08 });
    else if (event.key === "Home") home();
    else return;
    event.preventDefault();
  });
}
