// A tap on a part of the wall opens its six answers below the strip; without this file the link opens the same page.
"use strict";

document.addEventListener("click", async (event) => {
  const link = event.target.closest("a.part");
  const figure = document.querySelector("figure.asking");
  const place = document.getElementById("part");
  if (!link || !figure || !place || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  event.preventDefault();
  const asked = new URLSearchParams(new URL(link.getAttribute("href"), location.href).search);
  asked.set("part", link.dataset.part);
  const answer = await fetch(`${figure.dataset.fragment}?${asked}`, { headers: { "HX-Request": "true" } });
  if (!answer.ok || answer.headers.has("HX-Refresh")) {
    location.assign(link.getAttribute("href"));
    return;
  }
  place.innerHTML = await answer.text();
  for (const each of document.querySelectorAll("a.part[aria-current]")) each.removeAttribute("aria-current");
  for (const each of document.querySelectorAll("a.part")) {
    if (each.dataset.part === link.dataset.part) each.setAttribute("aria-current", "true");
  }
  const heading = document.getElementById("part-name");
  if (heading) {
    heading.focus({ preventScroll: true });
    place.scrollIntoView({ block: "nearest" });
  }
});

// What is folded to keep a phone's page short is open where there is room.
function unfold() {
  if (!matchMedia("(min-width: 48rem)").matches) return;
  for (const each of document.querySelectorAll("details[data-open-wide]")) each.open = true;
}
unfold();
document.addEventListener("htmx:afterSettle", unfold);

// Work that takes longer than a moment says so, and is not asked for twice.
for (const form of document.querySelectorAll("form[data-slow]")) {
  form.addEventListener("submit", () => {
    form.querySelector(".progress").hidden = false;
    setTimeout(() => { for (const each of form.querySelectorAll("button")) each.disabled = true; });
  });
}
