// Moving work on the foreman's page: tick a whole size in one tap, or drag a row (with all that is ticked) onto a bench.

const FAR = 8; // a press that moves less is a click

document.addEventListener("click", (event) => {
  const size = event.target.closest("[data-tick-size]")?.dataset.tickSize;
  if (!size) return;
  const boxes = [...document.querySelectorAll(`tr[data-nps="${CSS.escape(size)}"] input[name=spool]`)];
  const on = boxes.some((box) => !box.checked);
  boxes.forEach((box) => { box.checked = on; });
});

const benchAt = (x, y) => document.elementsFromPoint(x, y).map((one) => one.closest?.("[data-bench]")).find(Boolean);
let drag = null;

function mark(bench) {
  document.querySelectorAll(".drop-here").forEach((one) => one.classList.remove("drop-here"));
  bench?.classList.add("drop-here");
}

function start(event) {
  const row = event.target.closest("tr[data-spool]");
  if (!row || event.pointerType !== "mouse" || event.button !== 0 || event.target.closest("a, input, label, button")) return;
  drag = { row, x: event.clientX, y: event.clientY, going: false };
}

function move(event) {
  if (!drag) return;
  if (!drag.going && Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < FAR) return;
  if (!drag.going) begin();
  event.preventDefault();
  drag.label.hidden = false;
  drag.label.animate([{ transform: `translate(${event.clientX + 12}px, ${event.clientY + 12}px)` }], { duration: 0, fill: "forwards" });
  const near = 60;
  if (event.clientY < near) scrollBy(0, -24);
  else if (event.clientY > innerHeight - near) scrollBy(0, 24);
  mark(benchAt(event.clientX, event.clientY));
}

function begin() {
  drag.going = true;
  drag.row.dataset.held = "";
  drag.row.querySelector("input[name=spool]").checked = true;
  const count = document.querySelectorAll("#not-assigned input[name=spool]:checked").length;
  drag.label = document.createElement("div");
  drag.label.className = "dragged";
  drag.label.textContent = count === 1 ? drag.row.querySelector(".mark").textContent : `${count} spools`;
  document.body.append(drag.label);
}

function end(event) {
  if (!drag) return;
  const { going, row, label } = drag;
  drag = null;
  if (!going) return;
  label.remove();
  delete row.dataset.held;
  mark(null);
  const bench = event.type === "pointerup" && benchAt(event.clientX, event.clientY);
  const press = bench && document.querySelector(`#not-assigned button[name=bench][value="${CSS.escape(bench.dataset.bench)}"]`);
  if (press) press.form.requestSubmit(press);
}

document.addEventListener("pointerdown", start);
document.addEventListener("pointermove", move);
document.addEventListener("pointerup", end);
document.addEventListener("pointercancel", end);
