// The pad for the four digits: the fourth one signs on.

const form = document.getElementById("sign-on");
const box = form?.elements.digits;

function name() {
  return form.querySelector("input[name=person]:checked");
}

function sendWhenFull() {
  if (box.value.length === 4 && name()) form.requestSubmit();
}

if (form) {
  form.querySelector(".pad").hidden = false;
  box.addEventListener("input", sendWhenFull);
  form.addEventListener("change", (event) => {
    if (event.target.name !== "person") return;
    sendWhenFull();
  });
  form.addEventListener("click", (event) => {
    const digit = event.target.closest("[data-digit]")?.dataset.digit;
    if (!digit) return;
    box.value = digit === "back" ? box.value.slice(0, -1) : (box.value + digit).slice(0, 4);
    sendWhenFull();
  });
}
