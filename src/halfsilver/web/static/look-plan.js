// The room from above: the piece on its wall, the viewers, and the head, which may be taken by hand.
const SPACE = "http://www.w3.org/2000/svg";

function drawn(parent, name, attributes, text = "") {
  const made = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.textContent = text;
  parent.append(made);
  return made;
}

export class Plan {
  /** A plan in an svg element for people [{id, x, away}] before a piece so wide; `go(x, away)` walks, `visit(id)` goes to somebody. */
  constructor(svg, people, wide, farthest, { go, visit }) {
    this.svg = svg;
    this.wide = wide;
    const side = Math.max(1700, wide, ...people.map(({ x }) => 1.25 * Math.abs(x)));
    const deep = Math.min(Math.max(3000, ...people.map(({ away }) => 1.2 * away)), farthest);
    this.size = Math.max(side / 10, deep / 16);
    svg.setAttribute("viewBox", `${-side} ${-this.size} ${2 * side} ${deep + 2 * this.size}`);
    for (let ring = 1000; ring < deep + side; ring += 1000) drawn(svg, "circle", { class: "plan-ring", cx: 0, cy: 0, r: ring });
    drawn(svg, "rect", { class: "plan-wall", x: -20 * side, y: -this.size, width: 40 * side, height: this.size });
    drawn(svg, "rect", { class: "plan-piece", x: -wide / 2, y: -0.25 * this.size, width: wide, height: 0.55 * this.size });
    this.sight = drawn(svg, "path", { class: "plan-sight" });
    for (const { id, x, away } of people) {
      const one = drawn(svg, "g", { class: "plan-viewer" });
      drawn(one, "circle", { cx: x, cy: away, r: 0.55 * this.size });
      const near = people.find((some) => some.id !== id && Math.abs(some.x - x) < 5 * this.size && Math.abs(some.away - away) < 1.6 * this.size);
      const aside = near ? (near.x > x || (near.x === x && near.away > away) ? -0.9 : 0.9) : 0; // names of two who stand close lie apart
      const put = { x: x + aside * this.size, y: away + (aside ? 0.33 : 1.65) * this.size, "text-anchor": ["end", "middle", "start"][Math.sign(aside) + 1] };
      drawn(one, "text", { ...put, "font-size": 0.95 * this.size }, id.replaceAll("-", " "));
      one.addEventListener("click", (event) => { event.stopPropagation(); visit(id); });
    }
    this.head = drawn(svg, "circle", { class: "plan-head", r: 0.62 * this.size });
    this.byHand(go);
  }

  byHand(go) {
    const { svg } = this;
    const walk = (event, more) => {
      const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      go(spot.x, Math.max(spot.y, 0), more);
    };
    let held = false;
    svg.addEventListener("pointerdown", (event) => {
      if (event.target.closest(".plan-viewer")) return;
      held = true;
      svg.setPointerCapture(event.pointerId);
      walk(event, true);
    });
    svg.addEventListener("pointermove", (event) => { if (held) walk(event, true); });
    for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, (event) => {
      if (held && end === "pointerup") walk(event, false);
      held = false;
    });
  }

  /** The head has moved. */
  at({ x, away }) {
    this.head.setAttribute("cx", x);
    this.head.setAttribute("cy", away);
    this.sight.setAttribute("d", `M${x} ${away}L${-this.wide / 2} 0H${this.wide / 2}Z`);
  }
}
