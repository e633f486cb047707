// Draws the spool that the shop sent: tubes along its center lines, rings, ends, the up mark. It works out no measure.

import * as THREE from "../../vendor/three-0.183.2/three.module.min.js";
import { Hands } from "./hands.js";
import { Labels } from "./labels.js";

const AROUND = 40;
const STEEL = { pipe: 0xb4bcc2, arc: 0x98a2aa, weld: 0x555c61, groove: 0x2c3135, flange: 0x8b949b, inside: 0x3d4347 };
let shown = null;

const vec = (xyz) => new THREE.Vector3(...xyz);
const steel = (what, side = THREE.FrontSide) => new THREE.MeshStandardMaterial({ color: STEEL[what], roughness: 0.62, metalness: 0.25, side });

// Shows one spool; shown again it only comes back.
export function show(stage, data, lost) {
  if (!shown) shown = new View(stage, data, lost);
  shown.resize();
}

class View {
  constructor(stage, data, lost) {
    this.canvas = stage.querySelector("canvas");
    this.renderer = new THREE.WebGLRenderer({ canvas: this.canvas, antialias: true, alpha: true });
    this.canvas.addEventListener("webglcontextlost", (event) => { event.preventDefault(); lost(); });
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(26, 1, 1, 1e6);
    const body = new THREE.Group();
    for (const tube of data.tubes) body.add(...tubeOf(tube, data.od_mm / 2, data.wall_mm));
    for (const ring of data.rings) body.add(ringOf(ring));
    const ball = new THREE.Box3().setFromObject(body).getBoundingSphere(new THREE.Sphere());
    if (data.up) body.add(arrowOf(data));
    this.scene.add(body, new THREE.HemisphereLight(0xffffff, 0x8a8f94, 1.9));
    this.lamp = new THREE.DirectionalLight(0xffffff, 2.1);
    this.scene.add(this.lamp, this.lamp.target);
    this.hands = new Hands(this.canvas, { up: vec(data.up ?? [0, 0, 1]), eye: vec(data.eye), center: ball.center, radius: ball.radius }, () => this.draw());
    this.labels = new Labels(stage.querySelector("[data-labels]"), data);
    this.radius = ball.radius;
    stage.querySelector("[data-start]").addEventListener("click", () => this.hands.start());
    const switched = stage.querySelector("[data-dimensions]");
    switched.addEventListener("click", () => {
      const on = switched.getAttribute("aria-pressed") !== "true";
      switched.setAttribute("aria-pressed", String(on));
      this.labels.measures = on;
      this.draw();
    });
    new ResizeObserver(() => this.resize()).observe(this.canvas.parentElement);
  }

  resize() {
    const { clientWidth: width, clientHeight: height } = this.canvas.parentElement;
    if (!width || !height) return;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.draw();
  }

  draw() {
    const { width, height } = this.canvas;
    if (!width || !height) return;
    this.hands.place(this.camera);
    this.camera.near = Math.max(this.radius / 100, this.hands.distance - this.radius * 4);
    this.camera.far = this.hands.distance + this.radius * 4;
    this.camera.updateProjectionMatrix();
    this.lamp.position.copy(this.camera.position).addScaledVector(this.hands.up, this.radius * 2);
    this.lamp.target.position.copy(this.hands.target);
    this.renderer.render(this.scene, this.camera);
    const { clientWidth, clientHeight } = this.canvas.parentElement;
    this.labels.place(this.camera, clientWidth, clientHeight);
  }
}

// Rings of skin points, each slid along the pipe until it lies in its cut face.
function ringsOf(tube, radius) {
  const points = tube.points.map(vec);
  const straight = points.length === 2 ? points[1].clone().sub(points[0]).normalize() : null;
  let side = null;
  return points.map((point, number) => {
    const normal = vec(tube.normals[number]);
    const along = straight ?? normal;
    side = side ? side.addScaledVector(along, -side.dot(along)).normalize() : perpendicular(along);
    const other = new THREE.Vector3().crossVectors(along, side);
    return Array.from({ length: AROUND + 1 }, (_, step) => {
      const turn = (2 * Math.PI * step) / AROUND;
      const off = side.clone().multiplyScalar(radius * Math.cos(turn)).addScaledVector(other, radius * Math.sin(turn));
      return off.addScaledVector(along, -off.dot(normal) / along.dot(normal)).add(point);
    });
  });
}

function perpendicular(along) {
  const rough = Math.abs(along.z) < 0.9 ? new THREE.Vector3(0, 0, 1) : new THREE.Vector3(1, 0, 0);
  return rough.addScaledVector(along, -rough.dot(along)).normalize();
}

// A skin between rings that follow each other; smooth around, sharp at the cut faces.
function skin(rings, material) {
  const places = rings.flat().flatMap((point) => [point.x, point.y, point.z]);
  const faces = [];
  for (let ring = 0; ring + 1 < rings.length; ring += 1) {
    for (let step = 0; step < AROUND; step += 1) {
      const at = ring * (AROUND + 1) + step;
      faces.push(at, at + 1, at + AROUND + 1, at + 1, at + AROUND + 2, at + AROUND + 1);
    }
  }
  const shape = new THREE.BufferGeometry();
  shape.setAttribute("position", new THREE.Float32BufferAttribute(places, 3));
  shape.setIndex(faces);
  shape.computeVertexNormals();
  return new THREE.Mesh(shape, material);
}

function tubeOf(tube, radius, wall) {
  const outer = ringsOf(tube, radius);
  const inner = ringsOf(tube, radius - wall);
  const look = tube.kind === "arc" ? "arc" : "pipe";
  const end = (number) => skin([outer[number], inner[number]], steel(look, THREE.DoubleSide));
  return [skin(outer, steel(look)), skin(inner, steel("inside", THREE.BackSide)), end(0), end(outer.length - 1)];
}

function ringOf(ring) {
  const half = vec(ring.normal).multiplyScalar(ring.width_mm / 2);
  const at = vec(ring.at);
  const band = { points: [at.clone().sub(half).toArray(), at.clone().add(half).toArray()], normals: [ring.normal, ring.normal] };
  const group = new THREE.Group();
  const outer = ringsOf(band, ring.radius_mm + 0.6);
  group.add(skin(outer, steel(ring.what)));
  if (ring.what === "flange") {
    for (const edge of outer) group.add(skin([edge, edge.map((point) => point.clone().lerp(middleOf(edge), 0.45))], steel("flange", THREE.DoubleSide)));
  }
  return group;
}

function middleOf(edge) {
  return edge.slice(0, -1).reduce((sum, point) => sum.add(point), new THREE.Vector3()).multiplyScalar(1 / (edge.length - 1));
}

// The up mark's arrow, standing on leg A.
function arrowOf(data) {
  const up = vec(data.up);
  const foot = vec(data.line[0]).lerp(vec(data.line[1]), 0.3).addScaledVector(up, data.od_mm / 2);
  const ink = getComputedStyle(document.documentElement).getPropertyValue("--ink").trim();
  const arrow = new THREE.ArrowHelper(up, foot, data.od_mm, new THREE.Color(ink), data.od_mm * 0.35, data.od_mm * 0.22);
  arrow.line.visible = false;
  const shaft = new THREE.Mesh(new THREE.CylinderGeometry(data.od_mm * 0.04, data.od_mm * 0.04, data.od_mm * 0.7, 12), arrow.cone.material);
  shaft.position.y = data.od_mm * 0.35;
  arrow.add(shaft);
  return arrow;
}
