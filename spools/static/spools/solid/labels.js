// Measures and names over the picture: crisp text of the page, its lines in an SVG; a label gives way to one before it.

import * as THREE from "../../vendor/three-0.183.2/three.module.min.js";

const SVG = "http://www.w3.org/2000/svg";
const ORDER = ["end", "up", "leg", "check", "turn", "cut"];
const LINE_PX = 14; // from the pipe to its dimension line
const SHORT_PX = 26;
const ROOM_PX = 4;

export class Labels {
  constructor(place, data) {
    this.place_ = place;
    this.measures = true;
    this.ink = document.createElementNS(SVG, "svg");
    this.ink.setAttribute("aria-hidden", "true");
    place.append(this.ink);
    this.od = data.od_mm;
    this.line = data.line.map((xyz) => new THREE.Vector3(...xyz));
    const ends = data.ends.map((end) => ({ what: "end", start: end.at, end: end.at, out: new THREE.Vector3(...end.out), text: `END ${end.name}${end.to_main ? ", to main" : ""}: ${end.words}` }));
    const up = data.up ? [{ what: "up", start: upTip(data), end: upTip(data), text: "UP" }] : [];
    this.all = [...ends, ...up, ...data.measures]
      .sort((one, other) => ORDER.indexOf(one.what) - ORDER.indexOf(other.what))
      .map((one) => this.label(one));
  }

  label(one) {
    const text = document.createElement("span");
    text.className = `solid-label solid-${one.what}`;
    text.textContent = one.text;
    this.place_.append(text);
    return { ...one, text, start: new THREE.Vector3(...one.start), end: new THREE.Vector3(...one.end) };
  }

  place(camera, width, height) {
    const at = (point) => {
      const seen = point.clone().project(camera);
      return [((seen.x + 1) / 2) * width, ((1 - seen.y) / 2) * height];
    };
    this.ink.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.ink.replaceChildren();
    const knots = this.line.map(at);
    const middle = knots.reduce(([x, y], [u, v]) => [x + u / knots.length, y + v / knots.length], [0, 0]);
    this.stroke(knots, "center");
    const pipe = this.pipe(knots, camera, height);
    const taken = this.all.filter((one) => one.what === "up").map((one) => boxAt(at(one.start), [24, 40]));
    for (const one of this.all) {
      const wanted = this.measures || one.what === "end" || one.what === "up";
      one.text.hidden = true;
      if (!wanted) continue;
      const size = [one.text.offsetWidth, one.text.offsetHeight];
      const spots = this.spots(one, { at, middle, camera, height, size }).filter((spot) => {
        const box = boxAt(spot, size);
        return inside(box, width, height) && !taken.some((other, number) => meets(box, other) && !(one.what === "up" && number === 0));
      });
      const spot = spots.find((free) => !pipe.some((part) => meets(boxAt(free, size), part))) ?? spots[0];
      if (!spot) continue;
      one.text.hidden = false;
      taken.push(boxAt(spot, size));
      one.text.style.transform = `translate(${Math.round(spot[0] - size[0] / 2)}px, ${Math.round(spot[1] - size[1] / 2)}px)`;
      this.lines(one, { at, spot, size, camera, height });
    }
  }

  // Boxes along the pipe, for labels to keep off where they can.
  pipe(knots, camera, height) {
    const boxes = [];
    for (let leg = 0; leg + 1 < knots.length; leg += 1) {
      const parts = Math.max(2, Math.ceil(Math.hypot(...minus(knots[leg + 1], knots[leg])) / 14));
      for (let part = 0; part <= parts; part += 1) {
        const half = this.pixels(this.line[leg].clone().lerp(this.line[leg + 1], part / parts), camera, height) * 0.9;
        const [x, y] = [0, 1].map((axis) => knots[leg][axis] + ((knots[leg + 1][axis] - knots[leg][axis]) * part) / parts);
        boxes.push([x - half, y - half, x + half, y + half]);
      }
    }
    return boxes;
  }

  // Where a label may stand, best first: beside what it measures, on the side away from the spool's middle.
  spots(one, { at, middle, camera, height, size }) {
    const start = at(one.start);
    const end = at(one.end);
    const anchor = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
    const thick = this.pixels(one.start.clone().lerp(one.end, 0.5), camera, height);
    let away = unit([anchor[0] - middle[0], anchor[1] - middle[1]]);
    if (one.out) away = unit(minus(at(one.start.clone().addScaledVector(one.out, this.od)), start), away);
    if (one.what === "up") away = [0, -1];
    const along = minus(end, start);
    if (Math.hypot(...along) > 1) {
      const across = unit([-along[1], along[0]]);
      away = across[0] * away[0] + across[1] * away[1] < 0 ? [-across[0], -across[1]] : across;
    }
    if (one.what === "cut") away = [-away[0], -away[1]];
    const reach = ([x, y]) => (Math.abs(x) * size[0] + Math.abs(y) * size[1]) / 2;
    const gap = { check: 6, up: 4, leg: thick + LINE_PX + 3, end: 8, turn: thick + 14, cut: thick + 14 }[one.what];
    const slides = Math.hypot(...along) > 60 ? [0, 0.18, -0.18, 0.32, -0.32] : [0];
    const ring = [0, 0.5, -0.5, 1, -1, 1.6, -1.6, 2.4, -2.4, 3.1];
    const spots = [];
    for (const farther of [0, 26, 56, 92]) {
      for (const turn of one.out || one.what === "turn" || slides.length === 1 ? ring : [0, Math.PI]) {
        const way = turned(away, turn);
        const out = gap + reach(way) + farther;
        for (const slide of slides) spots.push([anchor[0] + along[0] * slide + way[0] * out, anchor[1] + along[1] * slide + way[1] * out]);
      }
    }
    return spots;
  }

  // Half the pipe's outside, in pixels of the picture there.
  pixels(point, camera, height) {
    const far = camera.position.distanceTo(point);
    return ((this.od / 2) * height) / (2 * far * Math.tan((camera.fov * Math.PI) / 360));
  }

  lines(one, { at, spot, size, camera, height }) {
    const start = at(one.start);
    const end = at(one.end);
    const along = minus(end, start);
    if (one.what === "check") this.stroke([start, end], "measure", true);
    if (one.what === "leg" && Math.hypot(...along) > SHORT_PX) {
      const across = unit([-along[1], along[0]]);
      const side = Math.sign((spot[0] - start[0]) * across[0] + (spot[1] - start[1]) * across[1]) || 1;
      const off = side * (this.pixels(one.start.clone().lerp(one.end, 0.5), camera, height) + LINE_PX);
      const moved = ([x, y], by) => [x + across[0] * by, y + across[1] * by];
      this.stroke([moved(start, off), moved(end, off)], "measure", true);
      for (const point of [start, end]) this.stroke([moved(point, side * 3), moved(point, off + side * 5)], "thin");
      return undefined;
    }
    const anchor = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
    const near = [Math.max(spot[0] - size[0] / 2, Math.min(anchor[0], spot[0] + size[0] / 2)), Math.max(spot[1] - size[1] / 2, Math.min(anchor[1], spot[1] + size[1] / 2))];
    return this.stroke([anchor, near], "thin");
  }

  stroke(points, kind, arrows = false) {
    const line = document.createElementNS(SVG, "polyline");
    line.setAttribute("points", points.map((point) => point.map((value) => value.toFixed(1)).join()).join(" "));
    line.setAttribute("class", `ink-${kind}`);
    this.ink.append(line);
    if (!arrows) return;
    const [start, end] = points;
    const way = unit(minus(end, start));
    for (const [tip, sign] of [[start, 1], [end, -1]]) {
      const back = [tip[0] + way[0] * 9 * sign, tip[1] + way[1] * 9 * sign];
      const head = document.createElementNS(SVG, "polygon");
      const corners = [tip, [back[0] - way[1] * 3, back[1] + way[0] * 3], [back[0] + way[1] * 3, back[1] - way[0] * 3]];
      head.setAttribute("points", corners.map((point) => point.map((value) => value.toFixed(1)).join()).join(" "));
      head.setAttribute("class", "ink-head");
      this.ink.append(head);
    }
  }
}

function upTip(data) {
  const foot = data.line[0].map((value, axis) => value + (data.line[1][axis] - value) * 0.3);
  return foot.map((value, axis) => value + data.up[axis] * data.od_mm * 1.5);
}

const minus = (one, other) => [one[0] - other[0], one[1] - other[1]];

function unit([x, y], otherwise = [0, -1]) {
  const size = Math.hypot(x, y);
  return size > 1e-6 ? [x / size, y / size] : otherwise;
}

function turned([x, y], by) {
  return [x * Math.cos(by) - y * Math.sin(by), x * Math.sin(by) + y * Math.cos(by)];
}

const boxAt = ([x, y], [wide, tall]) => [x - wide / 2 - ROOM_PX, y - tall / 2 - ROOM_PX, x + wide / 2 + ROOM_PX, y + tall / 2 + ROOM_PX];
const meets = (one, other) => one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
const inside = (box, width, height) => box[0] >= -ROOM_PX && box[1] >= -ROOM_PX && box[2] <= width + ROOM_PX && box[3] <= height + ROOM_PX;
