// Draws when something has changed, and only then: coarsely while somebody moves, then in full, a band at a time where drawing is slow.
import { Board, whiteOf } from "./look-gl.js";
import { halfFor } from "./look-eye.js";

const QUICK_MS = 30; // for one coarse picture
const BAND_MS = 35; // between two looks at what else there is to do
const REST_MS = 160; // after the last move
const LEAST_PX = 40_000;
const MOST_PX = 1_700_000;

export class View {
  /** A view of one or more panes {canvas}; null where nothing can be drawn. One pane is drawn on straight, several by way of one board. */
  static of(canvases) {
    const board = Board.on(canvases.length === 1 ? canvases[0] : document.createElement("canvas"));
    return board && new View(board, canvases);
  }

  constructor(board, canvases) {
    this.board = board;
    this.panes = canvases.map((canvas) => ({ canvas, piece: null, ink: canvas === board.canvas ? null : canvas.getContext("2d") }));
    this.eye = null;
    this.home = null;
    this.lit = { screen: 1, lights: 1, mix: null };
    this.cost = 0; // milliseconds a pixel, as last measured
    this.work = 0; // counts up with every picture, so that one which is overtaken ends
    this.frames = 0;
    for (const { canvas } of this.panes) new ResizeObserver(() => this.ask()).observe(canvas);
    document.addEventListener("visibilitychange", () => { if (!document.hidden && this.waiting) this.ask(); });
    board.canvas.addEventListener("webglcontextlost", (event) => { event.preventDefault(); this.lost = true; this.work++; });
    board.canvas.addEventListener("webglcontextrestored", () => this.again());
  }

  /** Put a piece before a pane's eye. */
  put(pane, asset, picture = pane.picture) {
    pane.piece?.drop();
    Object.assign(pane, { asset, picture, piece: this.board.piece(asset) });
    if (picture) pane.piece.content(picture);
    this.ask();
  }

  /** Show another picture on a pane's screen. */
  content(pane, picture) {
    pane.picture = picture;
    pane.piece?.content(picture);
    this.ask();
  }

  /** Everything anew after the browser took the board away. */
  again() {
    this.lost = false;
    this.board = new Board(this.board.canvas, this.board.gl);
    for (const pane of this.panes) if (pane.asset) { pane.piece = null; this.put(pane, pane.asset); }
  }

  /** Something has changed; `moving` while more is to come. */
  ask(moving = false) {
    this.waiting = true;
    this.work++;
    for (const { canvas } of this.panes) canvas.dataset.drawn = "not yet";
    clearTimeout(this.rest);
    if (document.hidden || this.lost || !this.eye) return;
    this.moving = moving;
    if (this.asked || this.busy) return;
    this.asked = requestAnimationFrame(async () => {
      this.asked = 0;
      this.busy = true;
      const { work } = this;
      try { await this.draw(work); } finally { this.busy = false; }
      if (work !== this.work) this.ask(this.moving);
    });
  }

  /** One picture: at once where that can be afforded, else coarse first. */
  async draw(work) {
    const panes = this.panes.filter((pane) => pane.piece && pane.canvas.clientWidth);
    if (!panes.length) return;
    this.fit(panes);
    if (!this.warm) { // the first drawing also builds the program, which tells nothing of its speed
      this.light(panes[0], { name: "quick", width: 16, height: 9 });
      await this.board.done();
      this.warm = true;
    }
    const whole = panes.reduce((sum, { width, height }) => sum + width * height, 0);
    const atOnce = this.cost && this.cost * whole < (this.moving ? QUICK_MS : 2 * QUICK_MS);
    const afford = this.cost ? QUICK_MS / this.cost : LEAST_PX * panes.length;
    await this.quick(panes, atOnce ? 1 : Math.min(1, Math.sqrt(Math.max(afford, 0.4 * LEAST_PX * panes.length) / whole)));
    if (work !== this.work) return;
    if (atOnce) this.waiting = false;
    this.tell(atOnce ? "full" : "coarse");
    if (!atOnce && !this.moving) await this.fully(panes, work);
    else if (!atOnce) this.rest = setTimeout(() => this.ask(), REST_MS);
  }

  /** How large each pane is; those beside one another are drawn to one scale. */
  fit(panes) {
    let half = 0;
    for (const pane of panes) {
      const { clientWidth: wide, clientHeight: high } = pane.canvas;
      const scale = Math.min(window.devicePixelRatio || 1, 2, Math.sqrt(MOST_PX / panes.length / (wide * high)));
      [pane.width, pane.height] = [Math.max(1, Math.round(wide * scale)), Math.max(1, Math.round(high * scale))];
      half = Math.max(half, halfFor(pane.asset.frame, this.home, pane.width / pane.height));
    }
    this.eye.half = half;
  }

  async quick(panes, part) {
    const begun = performance.now();
    let count = 0;
    for (const pane of panes) {
      const [width, height] = [pane.width, pane.height].map((one) => Math.max(1, Math.round(one * part)));
      this.light(pane, { name: "quick", width, height });
      this.show(pane);
      count += width * height;
    }
    await this.board.done();
    this.measured((performance.now() - begun) / count);
  }

  /** The full picture, in bands; it gives way as soon as something has changed. */
  async fully(panes, work) {
    for (const pane of panes) {
      let from = 0;
      while (from < pane.height) {
        const rows = Math.max(4, Math.floor(BAND_MS / (this.cost * pane.width)));
        const [to, begun] = [Math.min(from + rows, pane.height), performance.now()];
        this.light(pane, { name: "light", width: pane.width, height: pane.height, from, to });
        await this.board.done();
        this.measured((performance.now() - begun) / (pane.width * (to - from)));
        from = to;
        if (work !== this.work || document.hidden) return;
      }
      this.show(pane);
    }
    this.waiting = false;
    this.tell("full");
  }

  /** Whose exposure counts, and which: pieces beside one another are shown in one light. */
  get exposed() {
    const { asset } = this.panes.find((pane) => pane.asset);
    return [asset, this.lit.screen > 0 && Boolean(asset.screen)];
  }

  light(pane, how) { this.board.light(pane.piece, this.eye, this.lit, { ...how, scale: 1 / whiteOf(...this.exposed) }); }

  show(pane) {
    const { canvas } = this.board;
    if (canvas.width !== pane.width || canvas.height !== pane.height) [canvas.width, canvas.height] = [pane.width, pane.height];
    this.board.show(...this.exposed);
    if (!pane.ink) return;
    [pane.canvas.width, pane.canvas.height] = [pane.width, pane.height];
    pane.ink.drawImage(canvas, 0, 0);
  }

  /** The picture as it stands on a canvas that paper keeps; a board forgets what it showed. */
  copy(pane) {
    if (pane.canvas.dataset.drawn !== "full") { // paper does not wait: coarser then
      const part = Math.min(1, Math.sqrt((4 * LEAST_PX) / (pane.width * pane.height)));
      this.light(pane, { name: "quick", width: Math.round(pane.width * part), height: Math.round(pane.height * part) });
    }
    this.show(pane);
    const made = Object.assign(document.createElement("canvas"), { width: pane.width, height: pane.height });
    made.getContext("2d").drawImage(pane.canvas, 0, 0);
    return made;
  }

  measured(cost) { this.cost = this.cost ? 0.5 * this.cost + 0.5 * cost : cost; }

  tell(how) {
    this.frames++;
    for (const { canvas } of this.panes) { canvas.dataset.drawn = how; canvas.dataset.frames = this.frames; }
    this.drawn?.(how);
  }
}
