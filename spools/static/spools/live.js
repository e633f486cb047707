// Follows what others change. A poll every 2 s brings the live part when something has changed; rows are then put in
// place one by one, by their id, so that nothing moves under a finger. When nobody has touched the page for a while the
// whole part is renewed in its new order. The page says when it is no longer fresh.
(() => {
  "use strict";
  const QUIET_MS = 8000;
  const STALE_MS = 10000;
  const live = document.getElementById("live");
  if (!live || !window.htmx) return;
  const bar = document.getElementById("live-bar");
  const asOf = () => document.getElementById("as-of");
  let touched = 0;
  let heard = performance.now();
  let etag = live.dataset.etag || "";
  let asked = 0; // how often somebody asked for the whole part, now
  let brought = 0; // the last of these that an answer has brought
  let whole = false; // the answer at hand is to one of them
  let waiting = null; // the newest live part, not yet shown in its own order

  for (const kind of ["pointerdown", "keydown", "wheel", "touchmove", "input"]) {
    document.addEventListener(kind, (event) => {
      if (event.isTrusted) touched = performance.now();
    }, { passive: true, capture: true });
  }

  // Somebody is at work in it: something is ticked, typed, opened, or was touched a moment ago.
  function busy() {
    if (touched && performance.now() - touched < QUIET_MS) return true;
    if (live.contains(document.activeElement) && document.activeElement.matches("input, select, textarea")) return true;
    if (live.querySelector("details[open], [data-held]")) return true;
    return [...live.querySelectorAll("input, select, textarea")].some((field) =>
      field.type === "checkbox" || field.type === "radio" ? field.checked !== field.defaultChecked
        : field.type !== "hidden" && field.value !== (field.defaultValue ?? field.value));
  }

  const rowsOf = (part) => [...part.querySelectorAll("[data-row]")];
  const byId = (part, id) => part.querySelector(`#${CSS.escape(id)}`);

  function inOrder(fresh) {
    const answers = whole;
    whole = false;
    waiting = null;
    live.replaceChildren(...fresh.childNodes);
    tell();
    live.dispatchEvent(new CustomEvent("live-renewed", { bubbles: true, detail: { whole: true, asked: answers } }));
    return [...live.children];
  }

  // Each row that changed is put in place of itself; what came and went is only counted.
  function inPlace(fresh) {
    const changed = [];
    for (const row of rowsOf(live)) {
      const news = byId(fresh, row.id);
      row.classList.toggle("moved-on", !news);
      if (!news || news.dataset.version === row.dataset.version || "held" in row.dataset) continue;
      const copy = news.cloneNode(true);
      keepTicks(row, copy);
      const at = keepTyped(row, copy);
      row.replaceWith(copy);
      at?.focus({ preventScroll: true });
      changed.push(copy);
    }
    for (const part of live.querySelectorAll("[data-part]")) {
      const news = byId(fresh, part.id);
      if (news && !part.contains(document.activeElement) && !news.isEqualNode(part)) {
        const copy = news.cloneNode(true);
        part.replaceWith(copy);
        changed.push(copy);
      }
    }
    waiting = fresh;
    const before = rowsOf(live).map((row) => row.id);
    const after = rowsOf(fresh).map((row) => row.id);
    const came = after.filter((id) => !before.includes(id)).length;
    const went = before.filter((id) => !after.includes(id)).length;
    tell(came, went, before.join() !== after.join());
    live.dispatchEvent(new CustomEvent("live-renewed", { bubbles: true, detail: { whole: false, asked: false } }));
    return changed;
  }

  // What is typed goes on standing there; returns the field that was being typed into.
  function keepTyped(old, copy) {
    let at = null;
    for (const field of old.querySelectorAll("input:not([type=hidden], [type=checkbox], [type=radio])[id]")) {
      const same = byId(copy, field.id);
      if (same && field.value !== field.defaultValue) same.value = field.value;
      if (field === document.activeElement) at = same;
    }
    return at;
  }

  function keepTicks(old, copy) {
    for (const box of old.querySelectorAll("input[type=checkbox]")) {
      const same = copy.querySelector(`input[type=checkbox][value="${CSS.escape(box.value)}"]`);
      if (same) same.checked = box.checked;
    }
  }

  function tell(came = 0, went = 0, other = false) {
    const news = bar.querySelector("[data-news]");
    const parts = [came && `${came} new`, went && `${went} moved on`].filter(Boolean);
    news.hidden = !other;
    news.querySelector("span").textContent = parts.join(", ") || "The order has changed";
    show();
  }

  function show() {
    const stale = !document.hidden && performance.now() - heard > STALE_MS;
    const strip = bar.querySelector("[data-stale]");
    if (strip.hidden === stale) strip.hidden = !stale;
    if (stale) strip.querySelector("span").textContent = `as of ${asOf()?.textContent || "a while ago"}; no answer since. Trying again.`;
    bar.hidden = strip.hidden && bar.querySelector("[data-news]").hidden;
  }

  htmx.defineExtension("rows", {
    isInlineSwap: (style) => style === "rows",
    handleSwap(style, target, fragment) {
      if (style !== "rows") return false;
      const fresh = fragment.querySelector("#live") || fragment;
      return whole || !busy() ? inOrder(fresh) : inPlace(fresh);
    },
  });

  live.addEventListener("htmx:configRequest", (event) => {
    if (event.detail.elt !== live) return;
    if (live.dataset.path) event.detail.path = live.dataset.path; // another spool was asked for on the page
    event.detail.headers["X-Live"] = "1";
    if (etag && asked === brought) event.detail.headers["If-None-Match"] = etag;
  });
  live.addEventListener("htmx:beforeRequest", (event) => {
    if (event.detail.elt !== live) return;
    event.detail.xhr.asked = asked;
    if (document.hidden) event.preventDefault();
  });
  live.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.elt !== live) return;
    const { status } = event.detail.xhr;
    whole = event.detail.xhr.asked > brought; // a poll under way when somebody asked is not the answer to that
    // 304: nothing new. No time in the answer: a refusal or the way to sign in, not this page.
    event.detail.shouldSwap = status === 200 && Boolean(event.detail.xhr.getResponseHeader("X-As-Of"));
  });
  live.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.elt !== live) return;
    const { xhr } = event.detail;
    if ((xhr.status !== 200 && xhr.status !== 304) || !xhr.getResponseHeader("X-As-Of")) return;
    heard = performance.now();
    brought = xhr.asked;
    if (asked > brought) setTimeout(() => htmx.trigger(live, "live-now"));
    etag = xhr.getResponseHeader("ETag") || "";
    const words = xhr.getResponseHeader("X-As-Of");
    if (words && asOf()) asOf().textContent = words;
    show();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    heard = performance.now(); // it slept on purpose; the next answer tells
    htmx.trigger(live, "live-now");
  });
  live.addEventListener("live-force", () => {
    asked += 1;
    htmx.trigger(live, "live-now");
  });
  bar.addEventListener("click", (event) => {
    if (!event.target.closest("[data-show]") || !waiting) return;
    inOrder(waiting);
    htmx.process(live);
  });
  setInterval(show, 1000);
})();
