// Comfort only: every page works without this.
"use strict";

// A check answers while one types: the parts of the page that answer are taken from the page anew.
for (const form of document.querySelectorAll("form[data-live]")) {
  let timer, asked = 0;
  form.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(async () => {
      const mine = ++asked;
      const query = "?" + new URLSearchParams(new FormData(form));
      try {
        const text = await (await fetch(form.action + query)).text();
        if (mine !== asked) return;
        const page = new DOMParser().parseFromString(text, "text/html");
        for (const part of document.querySelectorAll("[data-part]")) part.innerHTML = page.getElementById(part.id)?.innerHTML ?? "";
        history.replaceState(null, "", query);
      } catch {
        // The button still asks.
      }
    }, 300);
  });
}

// Before a form is sent off, the server is asked whether it is there: if not, what was typed stays.
let sending = null;
for (const form of document.querySelectorAll("form[method=post]")) {
  form.addEventListener("submit", async (event) => {
    if (sending === form) return;
    event.preventDefault();
    const button = event.submitter;
    let there = false;
    try {
      there = (await fetch("/script.js", { cache: "no-store", signal: AbortSignal.timeout(4000) })).ok;
    } catch {
      there = false;
    }
    if (there) {
      sending = form;
      form.requestSubmit(button);
      sending = null;
      return;
    }
    let note = form.querySelector(".gone");
    if (!note) {
      note = document.createElement("p");
      note.className = "wrong gone";
      note.setAttribute("role", "alert");
      form.prepend(note);
    }
    note.textContent = "The server does not answer. What you typed is still here; try again when it runs.";
  });
}
