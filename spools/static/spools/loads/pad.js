// A box to sign in with a finger: strokes of points in thousandths of the box, drawn as they come.

const EDGE = 1000;
const CLOSE = 4; // points nearer than this to the one before say nothing new

export function signaturePad(canvas) {
  const pen = canvas.getContext("2d");
  let strokes = [];
  let drawing = null;

  function point(event) {
    const box = canvas.getBoundingClientRect();
    const at = (value, from, size) => Math.round(Math.min(Math.max((value - from) / size, 0), 1) * EDGE);
    return [at(event.clientX, box.left, box.width), at(event.clientY, box.top, box.height)];
  }

  function draw([x1, y1], [x2, y2]) {
    pen.strokeStyle = getComputedStyle(canvas).color;
    pen.lineWidth = 7;
    pen.lineCap = "round";
    pen.beginPath();
    pen.moveTo((x1 * canvas.width) / EDGE, (y1 * canvas.height) / EDGE);
    pen.lineTo((x2 * canvas.width) / EDGE, (y2 * canvas.height) / EDGE);
    pen.stroke();
  }

  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    drawing = [point(event)];
    strokes.push(drawing);
    event.preventDefault();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!drawing) return;
    const next = point(event);
    const last = drawing.at(-1);
    if (Math.hypot(next[0] - last[0], next[1] - last[1]) < CLOSE) return;
    draw(last, next);
    drawing.push(next);
  });
  for (const kind of ["pointerup", "pointercancel"]) canvas.addEventListener(kind, () => { drawing = null; });

  return {
    strokes: () => strokes.filter((stroke) => stroke.length > 1),
    clear() {
      strokes = [];
      pen.clearRect(0, 0, canvas.width, canvas.height);
    },
  };
}
