// Turning with one finger or the mouse, nearer and farther with two or the wheel, the arrow keys for neither.

import * as THREE from "../../vendor/three-0.183.2/three.module.min.js";

const TURN = 0.009; // radians a pixel
const ABOVE_PX = 34; // room for labels
const BESIDE_PX = 90;
const STEEPEST = 1.5;
const KEYS = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] };

export class Hands {
  constructor(canvas, { up, eye, center, radius }, moved) {
    this.canvas = canvas;
    this.up = up.clone().normalize();
    this.steepness = Math.asin(eye.clone().normalize().dot(this.up));
    this.ahead = eye.clone().addScaledVector(this.up, -eye.dot(this.up)).normalize();
    this.beside = new THREE.Vector3().crossVectors(this.up, this.ahead);
    this.center = center;
    this.radius = radius;
    this.moved = moved;
    this.fingers = new Map();
    this.reset();
    canvas.addEventListener("pointerdown", (event) => this.down(event));
    canvas.addEventListener("pointermove", (event) => this.move(event));
    for (const kind of ["pointerup", "pointercancel"]) canvas.addEventListener(kind, (event) => this.fingers.delete(event.pointerId));
    canvas.addEventListener("wheel", (event) => { event.preventDefault(); this.zoom(Math.exp(-event.deltaY * 0.0012)); }, { passive: false });
    canvas.addEventListener("keydown", (event) => this.key(event));
  }

  reset() {
    this.yaw = 0;
    this.pitch = this.steepness;
    this.nearer = 1.15;
    this.target = this.center.clone();
  }

  start() {
    this.reset();
    this.moved();
  }

  down(event) {
    this.canvas.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
  }

  move(event) {
    const before = this.fingers.get(event.pointerId);
    if (!before) return;
    const was = this.spread();
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    const by = [event.clientX - before[0], event.clientY - before[1]];
    if (this.fingers.size === 1) this.turn(-by[0] * TURN, by[1] * TURN);
    else if (was) {
      this.shift(by[0] / this.fingers.size, by[1] / this.fingers.size);
      this.zoom(this.spread() / was);
    }
  }

  spread() {
    if (this.fingers.size < 2) return 0;
    const [one, other] = [...this.fingers.values()];
    return Math.hypot(one[0] - other[0], one[1] - other[1]);
  }

  turn(yaw, pitch) {
    this.yaw += yaw;
    this.pitch = Math.max(-STEEPEST, Math.min(STEEPEST, this.pitch + pitch));
    this.moved();
  }

  zoom(factor) {
    if (!Number.isFinite(factor) || factor <= 0) return;
    this.nearer = Math.max(0.5, Math.min(8, this.nearer * factor));
    this.moved();
  }

  shift(right, down) {
    const mm = (2 * this.distance * Math.tan((this.fov * Math.PI) / 360)) / this.canvas.clientHeight;
    this.target.addScaledVector(this.rightward, -right * mm).addScaledVector(this.upward, down * mm);
  }

  key(event) {
    if (KEYS[event.key]) this.turn(...KEYS[event.key]);
    else if (event.key === "+" || event.key === "=") this.zoom(1.15);
    else if (event.key === "-") this.zoom(1 / 1.15);
    else if (event.key === "Home") this.start();
    else return;
    event.preventDefault();
  }

  // Puts the camera where the hands have turned it: the whole spool with room for its labels.
  place(camera) {
    this.fov = camera.fov;
    const { clientWidth: width, clientHeight: height } = this.canvas;
    const room = Math.min(height - 2 * ABOVE_PX, width - 2 * Math.min(BESIDE_PX, 0.08 * width)) / height;
    const narrow = Math.atan(Math.tan((camera.fov * Math.PI) / 360) * room);
    this.distance = this.radius / Math.sin(narrow) / this.nearer;
    const flat = this.ahead.clone().multiplyScalar(Math.cos(this.yaw)).addScaledVector(this.beside, Math.sin(this.yaw));
    const toEye = flat.multiplyScalar(Math.cos(this.pitch)).addScaledVector(this.up, Math.sin(this.pitch));
    camera.position.copy(this.target).addScaledVector(toEye, this.distance);
    camera.up.copy(this.up);
    camera.lookAt(this.target);
    camera.updateMatrixWorld();
    this.rightward = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    this.upward = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
  }
}
