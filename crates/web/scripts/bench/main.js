// The swing bench: fetches tracks and pictures and joins the parts. Until it has run, and where it can't, the
// stills of the page stand.

import { Body } from "./body.js";
import { ByHand } from "./by-hand.js";
import { MOMENTS, nearest, onOther, stops } from "./clock.js";
import { JOINTS, JointHandle, RailMarks, jointSays } from "./handles.js";
import { Marks } from "./marks.js";
import { figureFor, ghostOf } from "./other.js";
import { Panel, find } from "./panel.js";
import { Pictures } from "./pictures.js";
import { Player } from "./player.js";
import { Trouble, ask, fetchStrip } from "./strip.js";
import { Travel, keyed } from "./travel.js";

/** @import { SwingTracks, ViewTracks } from "./types.js" */

/** Decoded pictures of the whole page, bytes: about 90 pictures of full HD, or some 400 of a laptop's width. */
const MOST_BYTES = 768 * 1024 * 1024;
/** How often the studio is asked how far the pictures are, ms. */
const ASK_MS = 700;

const root = /** @type {HTMLElement | null} */ (document.getElementById("bench"));
if (root && root.dataset.correctable === "true") void open(root);

/** @param {HTMLElement} root */
async function open(root) {
  const state = find(root, ".state");
  const say = (/** @type {string} */ text) => (state.textContent = text);
  let tracks, other;
  try {
    tracks = await tracksAt(root.dataset.tracks ?? "");
    if (root.dataset.otherTracks) other = await tracksAt(root.dataset.otherTracks);
  } catch (error) {
    find(root, ".moving").hidden = false;
    find(root, ".panels").hidden = true;
    say(`${words(error)} The stills below stay.`);
    return;
  }
  find(root, ".moving").hidden = false;
  find(root, ".stills").hidden = true;
  const bench = new Bench(root, tracks, other ?? null, say);
  await bench.pictures();
}

/** @param {string} address @returns {Promise<SwingTracks>} */
async function tracksAt(address) {
  return (await ask(address)).json();
}

/** @param {unknown} error */
const words = (error) => (error instanceof Trouble ? error.message : `Something failed: ${error}.`);

class Bench {
  /**
   * @param {HTMLElement} root
   * @param {SwingTracks} tracks
   * @param {SwingTracks | null} other
   * @param {(text: string) => void} say
   */
  constructor(root, tracks, other, say) {
    this.root = root;
    this.say = say;
    /** @type {{ panel: Panel, address: string, ghost: boolean }[]} */
    this.wanted = [];
    /** @type {Panel[]} */
    this.own = [];
    /** @type {Panel[]} */
    this.beside = [];
    /** The moment whose numbers stand out. */
    this.marked = "";
    /** Whose moments are on the rail. @type {Panel | null} */
    this.rail_of = null;
    for (const view of tracks.views) this.addPanel(view, other);
    const panels = [...this.own, ...this.beside];
    const laid_out = find(root, ".panels").classList;
    laid_out.toggle("wide", tracks.views.some((view) => view.width_px > view.height_px));
    laid_out.toggle("many", panels.length > 2);
    this.travel = new Travel(panels, root);
    this.body = this.addBody(tracks);
    this.layers();
    this.marks = this.addMarks();
    this.player = this.addPlayer();
    this.only_here = this.addFilter();
    this.correct();
    this.buttons();
    this.keys();
    this.share();
    document.addEventListener("looks-different", () => this.body?.draw());
    this.travel.heard.push((index) => this.moved(index));
    const address = stops(this.travel.lead.tracks).find((m) => m.name === "address");
    this.travel.go(address?.index ?? 0);
    new ResizeObserver(() => {
      panels.forEach((panel) => panel.fit());
      this.rail?.draw();
    }).observe(find(root, ".panels"));
  }

  /** @param {ViewTracks} tracks @param {SwingTracks | null} other */
  addPanel(tracks, other) {
    const figure = this.root.querySelector(`figure.panel[data-view="${tracks.view}"]`);
    if (!(figure instanceof HTMLElement)) return;
    const panel = new Panel(figure, tracks);
    this.own.push(panel);
    this.wanted.push({ panel, address: figure.dataset.strip ?? "", ghost: false });
    const theirs = other?.views.find((view) => view.view === tracks.view);
    const strip = this.root.querySelector(`[data-other-strip][data-view="${tracks.view}"]`);
    if (!theirs || !(strip instanceof HTMLElement)) return;
    const address = strip.dataset.otherStrip ?? "";
    if (this.root.dataset.laidOver === "true") {
      panel.ghost = ghostOf(panel, theirs);
      this.wanted.push({ panel, address, ghost: true });
    } else {
      const mirrored = theirs.hand !== tracks.hand;
      const beside = new Panel(figureFor(figure, theirs, this.root.dataset.otherTitle ?? "", mirrored), theirs);
      this.beside.push(beside);
      this.wanted.push({ panel: beside, address, ghost: false });
    }
  }

  /** Fetches all pictures, each as soon as the studio has made it. */
  async pictures() {
    const share = MOST_BYTES / Math.max(1, this.wanted.length);
    const waiting = this.waitWords();
    await Promise.all(this.wanted.map((one) => this.fetchPictures(one, share)));
    waiting();
    const troubled = this.wanted.filter(({ panel }) => panel.trouble);
    if (troubled.length) this.offerAgain(troubled.map(({ panel }) => panel.trouble)[0]);
    else this.say("");
  }

  /** @param {{ panel: Panel, address: string, ghost: boolean }} one @param {number} share */
  async fetchPictures({ panel, address, ghost }, share) {
    try {
      panel.trouble = "";
      const strip = await fetchStrip(address, () => {});
      const pictures = new Pictures(strip, share, (index) => panel.arrived(index));
      if (ghost && panel.ghost) panel.ghost.pictures = pictures;
      else panel.pictures = pictures;
      panel.sizePictures();
      panel.show(panel.index);
    } catch (error) {
      panel.trouble = words(error);
      panel.read();
    }
  }

  /** Says how far the studio is with the pictures until told to stop. */
  waitWords() {
    let going = true;
    const address = `${this.root.dataset.address}/progress`;
    const look = async () => {
      if (!going) return;
      try {
        /** @type {{ state: string, done: number, of: number }[]} */
        const all = await (await ask(address)).json();
        const under = all.find((one) => one.state === "under_way");
        if (going && under) this.say(`The clips are taken apart into pictures, once: ${under.done} of ${under.of} frames.`);
        else if (going) this.say("The pictures are on their way.");
      } catch {
        // The fetch of the pictures themselves says what is wrong.
      }
      setTimeout(look, ASK_MS);
    };
    void look();
    return () => (going = false);
  }

  /** @param {string} trouble */
  offerAgain(trouble) {
    this.say(`${trouble} What is drawn and the numbers are there all the same. `);
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Try again";
    button.addEventListener("click", async () => {
      this.say("Trying again.");
      try {
        await fetch(`${this.root.dataset.address}/again`, { method: "POST", redirect: "manual" });
      } catch {
        // Said by the fetch that follows.
      }
      await this.pictures();
    });
    find(this.root, ".state").append(button);
  }

  /** @param {SwingTracks} tracks */
  addBody(tracks) {
    const place = document.getElementById("turned");
    const body = tracks.bodies[0];
    if (!place || !body) return null;
    /** @type {HTMLElement} */ (find(document, ".body-stills")).hidden = true;
    this.body_clip = tracks.views[body.clip];
    return new Body(place, body, this.body_clip.hand === "left");
  }

  layers() {
    const boxes = /** @type {NodeListOf<HTMLInputElement>} */ (this.root.querySelectorAll('input[name="layer"]'));
    const read = () => {
      const on = new Set([...boxes].filter((box) => box.checked).map((box) => box.value));
      for (const panel of this.travel.panels) {
        panel.layers = on;
        panel.draw();
      }
    };
    boxes.forEach((box) => box.addEventListener("change", read));
    read();
  }

  /** How strong a swing that is laid over shows. */
  share() {
    const ghosts = this.own.filter((panel) => panel.ghost);
    /** @type {HTMLElement} */ (find(this.root, "#share-row")).hidden = ghosts.length === 0;
    const rail = /** @type {HTMLInputElement} */ (find(this.root, "#share"));
    rail.addEventListener("input", () => {
      for (const panel of ghosts) {
        if (panel.ghost) panel.ghost.share = Number(rail.value) / 100;
        panel.show(panel.index);
      }
    });
  }

  addMarks() {
    const list = find(this.root, "#mark-list");
    const button = (/** @type {string} */ what) => /** @type {HTMLButtonElement} */ (find(this.root, `[data-do="${what}"]`));
    const [undo, redo, clear] = ["mark-undo", "mark-redo", "mark-clear"].map(button);
    const marks = new Marks(this.own, list, () => {
      undo.disabled = marks.states.length < 2 && !marks.open;
      redo.disabled = marks.undone.length === 0;
      clear.disabled = marks.marks.length === 0;
    });
    this.root.querySelectorAll('input[name="tool"]').forEach((radio) => {
      radio.addEventListener("change", () => marks.choose(/** @type {any} */ (/** @type {HTMLInputElement} */ (radio).value)));
    });
    this.travel.held = (panel, event) =>
      marks.tool !== "" || (this.handles?.some((handle) => handle.panel === panel && handle.near(event)) ?? false);
    return marks;
  }

  addPlayer() {
    const loop = /** @type {[HTMLSelectElement, HTMLSelectElement]} */ ([find(this.root, "#loop-from"), find(this.root, "#loop-to")]);
    for (const stop of stops(this.travel.lead.tracks)) {
      for (const select of loop) select.add(new Option(MOMENTS[stop.name], stop.name));
    }
    const button = find(this.root, '[data-do="play"]');
    return new Player(this.travel, find(this.root, "#speed"), loop, (playing) => {
      button.textContent = playing ? "Pause" : "Play";
      button.setAttribute("aria-pressed", String(playing));
    });
  }

  correct() {
    const by_hand = new ByHand(this.root, (tracks, said) => this.again(tracks, said), this.say);
    const joints = /** @type {HTMLSelectElement} */ (find(this.root, "#joint"));
    for (const joint of JOINTS) joints.add(new Option(jointSays(joint), joint));
    const choose = (/** @type {string} */ joint) => {
      joints.value = joint;
      this.handles?.forEach((handle) => handle.turn(box.checked, joint));
    };
    const place = (/** @type {Panel} */ { tracks, index }, /** @type {string} */ joint, /** @type {number} */ x, /** @type {number} */ y) => {
      const { view, width_px, frames } = tracks;
      const at = { x_px: x.toFixed(2), y_px: y.toFixed(2), picture_width_px: width_px };
      void by_hand.send("joint", { view, joint, frame: frames[index], ...at });
    };
    this.handles = this.own.map((panel) => new JointHandle(panel, choose, place));
    joints.addEventListener("change", () => choose(joints.value));
    this.rail = new RailMarks(this.travel, (moment, index) => {
      if (!this.own.includes(this.travel.lead)) {
        this.say("The other swing is put right on its own page.");
        return this.rail?.draw();
      }
      const { view, times_s } = this.travel.lead.tracks;
      void by_hand.send("moment", { view, moment, time_s: times_s[index] });
    });
    const box = /** @type {HTMLInputElement} */ (find(this.root, "#correcting"));
    box.addEventListener("change", () => {
      choose(joints.value);
      const points = /** @type {HTMLInputElement} */ (find(this.root, 'input[name="layer"][value="points"]'));
      if (points.checked !== box.checked) points.click();
      if (this.rail) this.rail.movable = box.checked;
      this.rail?.draw();
    });
    find(this.root, '[data-do="undo"]').addEventListener("click", () => void by_hand.send("undo", {}));
  }

  /** After a correction. @param {SwingTracks} tracks @param {string} said */
  again(tracks, said) {
    for (const panel of this.own) {
      panel.tracks = tracks.views.find((view) => view.view === panel.tracks.view) ?? panel.tracks;
    }
    if (this.body && tracks.bodies[0]) {
      this.body.tracks = tracks.bodies[0];
      this.body_clip = tracks.views[tracks.bodies[0].clip];
    }
    this.travel.measureRail();
    this.rail?.draw();
    this.travel.go(this.travel.index);
    const undo = document.getElementById("numbers-table")?.dataset.canUndo === "true";
    /** @type {HTMLButtonElement} */ (find(this.root, '[data-do="undo"]')).disabled = !undo;
    this.say(said);
  }

  /** @param {number} index */
  moved(index) {
    this.handles?.forEach((handles) => handles.follow());
    if (this.rail?.travel.lead !== this.rail_of) {
      this.rail_of = this.travel.lead;
      this.rail?.draw();
    }
    if (this.body && this.body_clip) {
      const { lead } = this.travel;
      const time = onOther(lead.tracks, this.body_clip, lead.tracks.times_s[index]);
      this.body.show(nearest(this.body_clip.times_s, time));
    }
    this.markNumbers();
  }

  /** The switch that leaves the other moments' numbers out. */
  addFilter() {
    const box = /** @type {HTMLInputElement} */ (find(document, "#only-here"));
    /** @type {HTMLElement} */ (box.closest("label")).hidden = false;
    box.checked = true;
    box.addEventListener("change", () => this.markNumbers());
    return box;
  }

  /** The numbers of the moment shown stand out; between moments, those of the last one stay. */
  markNumbers() {
    const here = this.travel.moment();
    const now = here && here.index === this.travel.index ? here.name : "";
    if (here) this.marked = here.name;
    document.querySelectorAll("#numbers-table tr[data-line]").forEach((line) => {
      const { moment } = /** @type {HTMLElement} */ (line).dataset;
      line.classList.toggle("here", now !== "" && moment === now && !this.only_here.checked);
      const wanted = moment === this.marked || line.classList.contains("changed");
      /** @type {HTMLElement} */ (line).hidden = this.only_here.checked && !wanted;
    });
    document.querySelectorAll("#numbers-table table").forEach((table) => {
      /** @type {HTMLElement} */ (table).hidden = !table.querySelector("tr[data-line]:not([hidden])");
    });
    const note = document.getElementById("at-moment");
    if (note) note.textContent = this.marked ? `At ${MOMENTS[this.marked]}${now ? "" : ", the moment before this frame"}.` : "";
  }

  buttons() {
    const { travel, marks, player } = this;
    const does = /** @type {Record<string, () => void>} */ ({
      back: () => travel.step(-1),
      on: () => travel.step(1),
      "moment-back": () => travel.hop(-1),
      "moment-on": () => travel.hop(1),
      play: () => player.toggle(),
      "mark-undo": () => marks.undo(),
      "mark-redo": () => marks.redo(),
      "mark-clear": () => marks.clear(),
    });
    for (const [what, act] of Object.entries(does)) {
      find(this.root, `[data-do="${what}"]`).addEventListener("click", act);
    }
  }

  /** Keys anywhere on the page, unless what has the focus needs them itself. */
  keys() {
    document.addEventListener("keydown", (event) => {
      const at = event.target;
      const own = at instanceof HTMLElement && (at.matches("select, input:not(#at), textarea") || at.closest("#turned"));
      const press = at instanceof HTMLElement && at.matches("button, summary, a") && [" ", "Enter"].includes(event.key);
      if (own || press || event.defaultPrevented) return;
      // Up and down scroll the page unless a picture or the rail has the focus.
      const upDown = event.key === "ArrowUp" || event.key === "ArrowDown" || event.key === "Home" || event.key === "End" || event.key === " ";
      const mine = at instanceof HTMLElement && at.matches("canvas.drawn, #at");
      if (upDown && !mine) return;
      const act = keyed(event, this.travel, () => this.player.toggle());
      if (!act) return;
      event.preventDefault();
      act();
    });
  }
}
