// Light, dark, or as the device says. Runs before the page is drawn, so that nobody sees the other one flash by.
(() => {
  "use strict";
  const KEY = "theme";
  const root = document.documentElement;

  function kept() {
    try {
      return localStorage.getItem(KEY) || "";
    } catch {
      return ""; // storage switched off: as the device says
    }
  }

  function keep(choice) {
    try {
      if (choice) localStorage.setItem(KEY, choice);
      else localStorage.removeItem(KEY);
    } catch {
      // the choice then holds for this page only
    }
  }

  function show(choice) {
    if (choice === "light" || choice === "dark") root.dataset.theme = choice;
    else delete root.dataset.theme;
    for (const button of document.querySelectorAll("[data-theme-choice]")) {
      button.setAttribute("aria-pressed", String(button.dataset.themeChoice === choice));
    }
  }

  show(kept());
  document.addEventListener("DOMContentLoaded", () => {
    for (const group of document.querySelectorAll(".theme")) group.hidden = false;
    show(kept());
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-theme-choice]");
    if (!button) return;
    keep(button.dataset.themeChoice);
    show(button.dataset.themeChoice);
  });
  // Another tab of the same tablet changed it.
  window.addEventListener("storage", (event) => {
    if (event.key === KEY) show(kept());
  });
})();
