// What every page does beyond plain links and forms: say when the program cannot be reached, and go on when it is back.
const banner = document.getElementById("banner");

/** Show a line at the top of the page; an empty text takes it away. */
export function say(text, kind = "") {
  banner.textContent = text;
  banner.dataset.kind = kind;
  banner.hidden = !text;
}

/** A token of the start that now runs, put into every form of the page. */
export async function freshToken() {
  const answer = await fetch("/token", { headers: { accept: "application/json" } });
  const { token } = await answer.json();
  document.body.dataset.token = token;
  document.body.setAttribute("hx-headers", JSON.stringify({ "x-desk-token": token }));
  for (const field of document.querySelectorAll('input[name="token"]')) field.value = token;
  return token;
}

let away = false;
document.addEventListener("htmx:sendError", () => {
  away = true;
  say("The program cannot be reached. What you typed stays here and goes on when it is back.");
});
document.addEventListener("htmx:afterRequest", async (event) => {
  if (event.detail.xhr?.status === 403) {
    await freshToken();
    if (event.detail.elt.isConnected && window.htmx) window.htmx.trigger(event.detail.elt, "again");
    return;
  }
  if (away && event.detail.successful) {
    away = false;
    await freshToken();
    say("It is back.", "good");
    setTimeout(() => say(""), 3000);
  }
});
document.addEventListener("htmx:responseError", (event) => {
  if (event.detail.xhr.status >= 500) say("The program could not do that. Nothing was changed.");
});
// A form that was sent is not sent twice by an impatient finger.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.sent) return event.preventDefault();
  if (!form.hasAttribute("hx-post")) {
    form.dataset.sent = "yes";
    setTimeout(() => delete form.dataset.sent, 4000);
  }
});
// What was typed into a form that keeps, and is not kept, is asked about before its page goes.
let typed = document.querySelector("form[data-keeps] [aria-invalid]") !== null;
document.addEventListener("input", (event) => {
  if (event.target.closest("form[data-keeps]")) typed = true;
});
document.addEventListener("submit", (event) => {
  if (event.target.matches("[data-keeps]")) typed = false;
});
document.addEventListener("click", (event) => {
  if (event.target.closest("a[data-undo]")) typed = false;
});
addEventListener("beforeunload", (event) => {
  if (typed) event.preventDefault();
});
// A drop closes when somebody looks elsewhere.
document.addEventListener("click", (event) => {
  for (const drop of document.querySelectorAll("details.drop[open]")) if (!drop.contains(event.target)) drop.open = false;
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") for (const drop of document.querySelectorAll("details.drop[open]")) drop.open = false;
});
