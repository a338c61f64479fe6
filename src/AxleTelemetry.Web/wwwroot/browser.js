// What only the browser knows or keeps. Cookies are read by the service, so that the first page already has them.
const year = 365 * 24 * 3600;
const keep = (name, value) => { document.cookie = `${name}=${encodeURIComponent(value)}; path=/; max-age=${year}; samesite=strict`; };

export function zone() {
  const name = Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC";
  keep("zone", name);
  return name;
}

export function look(name) {
  document.documentElement.dataset.look = name;
  keep("look", name);
  window.dispatchEvent(new Event("lookchange"));
}

/** Says that the page answers from now on: until then a press of a button would be lost. */
export function alive() {
  document.documentElement.dataset.alive = "yes";
}

// What is on paper says when it was put there.
const clock = new Intl.DateTimeFormat("en-GB", { dateStyle: "long", timeStyle: "short" });
window.addEventListener("beforeprint", () => {
  for (const line of document.querySelectorAll("[data-printed]")) line.textContent = `${line.dataset.printed} ${clock.format(new Date())} (${Intl.DateTimeFormat().resolvedOptions().timeZone}), ${location.href}`;
});

// A service that was started again does not know the page of before, and after many vain tries the framework tries no more: the page begins anew at its
// address as soon as the service answers.
let beginning = false;
async function begin() {
  if (beginning) return;
  beginning = true;
  while (!(await fetch("/health/live", { cache: "no-store" }).then(a => a.ok, () => false))) await new Promise(done => setTimeout(done, 2000));
  location.reload();
}
document.addEventListener("components-reconnect-state-changed", e => {
  if (e.detail.state === "rejected" || e.detail.state === "failed") begin();
}, true);
