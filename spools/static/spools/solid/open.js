// The spool in the hand: nothing of it is fetched until somebody asks for it. Without WebGL the isometric drawing stays.

const place = document.querySelector("[data-solid]");
const button = place?.querySelector("[data-open]");
const stage = place?.querySelector("[data-stage]");
const refused = place?.querySelector("[data-refused]");

function hasWebGL() {
  try {
    return Boolean(document.createElement("canvas").getContext("webgl2"));
  } catch {
    return false;
  }
}

function refuse(words) {
  stage.hidden = true;
  button.hidden = true;
  refused.textContent = words;
  refused.hidden = false;
}

async function open() {
  button.disabled = true;
  try {
    const [answer, { show }] = await Promise.all([fetch(place.dataset.solid, { credentials: "same-origin" }), import("./view.js")]);
    if (!answer.ok) throw new Error(`status ${answer.status}`);
    stage.hidden = false;
    button.hidden = true;
    show(stage, await answer.json(), () => refuse("The screen of this device gave up drawing. The isometric drawing above shows the same spool."));
    stage.querySelector("canvas").focus({ preventScroll: true });
    stage.scrollIntoView({ block: "nearest" });
  } catch (trouble) {
    console.error(trouble);
    button.disabled = false;
    refused.textContent = "It could not be fetched. The isometric drawing above shows the same spool; tap once more when the network is back.";
    refused.hidden = false;
  }
}

if (button) {
  if (hasWebGL()) {
    button.hidden = false;
    button.addEventListener("click", () => { refused.hidden = true; open(); });
    place.querySelector("[data-close]").addEventListener("click", () => {
      stage.hidden = true;
      button.hidden = button.disabled = false;
      button.focus();
    });
  } else {
    refuse("This device can't turn it in 3-D; the isometric drawing above shows the same spool.");
  }
}
