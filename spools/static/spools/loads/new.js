// What is ticked, trip by trip, against what a truck takes.

const form = document.getElementById("load-new");
const KG_PER_LB = 0.45359237;
const pounds = (kg) => `${Math.round(kg / KG_PER_LB).toLocaleString("en-US")} lb`;

function say() {
  const most = Number(form.dataset.mostKg);
  const trips = new Map();
  for (const box of form.querySelectorAll("input[name=spool]:checked")) {
    const trip = form.elements[`trip-${box.value}`].value.trim() || "1";
    const [count, kg] = trips.get(trip) ?? [0, 0];
    trips.set(trip, [count + 1, kg + Number(box.dataset.kg)]);
  }
  const parts = [...trips].sort(([one], [other]) => Number(one) - Number(other)).map(([trip, [count, kg]]) => {
    const over = kg > most ? `, ${pounds(kg - most)} too much` : "";
    return `${trips.size > 1 ? `trip ${trip}: ` : ""}${count} spool${count === 1 ? "" : "s"}, ${pounds(kg)} of ${pounds(most)}${over}`;
  });
  document.getElementById("load-says").textContent = parts.length ? `${parts.join("; ")}.` : "Nothing is ticked.";
}

if (form) {
  form.addEventListener("input", say);
  say();
}
