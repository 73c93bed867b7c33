/** The shell: which view is shown, the tape of steps, the name of the project, and what is said above everything. */

import { begin } from "./ask/looking.js";
import { call, connection } from "./lib/api.js";
import { button, el, say } from "./lib/dom.js";
import { setLabels } from "./lib/labels.js";
import { stay } from "./lib/presence.js";
import { change, close, open, project, rename, save, settle, watch } from "./project/project.js";
import { settings, showSaved, showSettings } from "./project/settings.js";
import { showSmallStrip } from "./steps/strip.js";
import { LEDGER, MORE, NOTEBOOK, SHELF, STEPS } from "./views.js";

const main = document.getElementById("main");
const app = { catalogue: null, project, change, steps: STEPS, go: (name) => { location.hash = address(name); } };
let leave = null;
let turn = 0;

const OUTSIDE = [LEDGER, NOTEBOOK];
const address = (name, id = project.id) => ([SHELF, ...OUTSIDE].some((view) => view.name === name) ? `#/${name}` : `#/${encodeURIComponent(id)}/${name}`);

/** Project id and name of the view that the address asks for. */
function asked() {
  const [first, second, ...rest] = location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  const outside = OUTSIDE.find((view) => view.name === first);
  if (outside || !second) return { id: null, view: outside ?? SHELF, path: outside && second ? [second, ...rest] : [] };
  return { id: first, view: [...STEPS, ...MORE].find((view) => view.name === second) ?? STEPS[0] };
}

async function route({ moveFocus = true } = {}) {
  const mine = ++turn;
  const { id, view, path } = asked();
  try {
    if (!app.catalogue) {
      app.catalogue = await call("GET", "/api/catalogue");
      setLabels(app.catalogue);
      sayWhatWasDamaged();
      await showSaved();
      begin(app);
    }
    if (id && id !== project.id) await open(id);
    if (!id) await close();
    if (mine !== turn) return;
    const module = await view.load();
    if (mine !== turn) return;
    const leaving = leave;
    leave = null;
    await leaving?.();
    const frame = el("div", { class: `view ${view.name}` });
    main.replaceChildren(frame);
    frameHeader(view);
    showStrip();
    app.path = path;
    const shown = (await module.show(frame, app)) ?? null;
    if (mine !== turn) return void shown?.();
    leave = shown;
    if (moveFocus) { main.focus({ preventScroll: true }); scrollTo(0, 0); }
  } catch (error) {
    if (mine === turn) showFault(error);
  }
}

function showFault(error) {
  const words = error.status === 404 ? "This project no longer exists." : `This view cannot be shown: ${error.message}.`;
  frameHeader(SHELF);
  main.replaceChildren(el("div", { class: "view" },
    el("h1", { text: "Something went wrong" }),
    el("p", { text: words }),
    el("p", { class: "row" },
      button("Try again", () => route(), { kind: "main" }),
      el("a", { class: "button plain", href: "#/projects" }, "All projects"))));
}

function frameHeader(view) {
  const isOpen = project.id !== null && project.id === asked().id;
  document.title = isOpen ? `${view.title} · ${project.name} · ellwand` : `${view.title} · ellwand`;
  for (const id of ["project-bar", "steps", "more"]) document.getElementById(id).hidden = !isOpen;
  showSettings();
  if (!isOpen) return;
  const name = document.getElementById("project-name");
  if (document.activeElement !== name) name.value = project.name;
  const link = (each, number) =>
    el("li", {}, el("a", { href: address(each.name), "aria-current": each === view && (number ? "step" : "page") },
      number && el("span", { class: "number", text: number }), el("span", { text: each.title })));
  document.getElementById("steps").replaceChildren(el("ol", {}, STEPS.map((each, i) => link(each, i + 1))));
  document.getElementById("more").replaceChildren(el("ul", {}, MORE.map((each) => link(each, null))));
}

const showStrip = showSmallStrip(document.getElementById("looking"), () => address("answer"), () => Boolean(project.id) && asked().view.name !== "answer");

document.getElementById("project-name").addEventListener("change", ({ target }) => {
  target.value = target.value.trim() || "Untitled";
  rename(target.value);
});

const saved = document.getElementById("saved");
watch.addEventListener("change", () => {
  const name = document.getElementById("project-name");
  if (document.activeElement !== name) name.value = project.name;
});
watch.addEventListener("saving", () => { saved.textContent = "saving …"; });
watch.addEventListener("unsaved", () => { saved.textContent = "not saved yet"; });
watch.addEventListener("saved", () => { saved.textContent = "saved"; });
watch.addEventListener("reloaded", () => { say("Changes from another tab are shown"); route({ moveFocus: false }); });
settings.addEventListener("units", () => route({ moveFocus: false }));

const banner = document.getElementById("banner");
function announce(words, ...actions) {
  banner.replaceChildren(el("p", { text: words }), ...actions);
  banner.hidden = false;
}
const quiet = () => { banner.hidden = true; };

watch.addEventListener("conflict", () => announce(
  "This project was also changed in another tab.",
  button("Use the saved version", async () => { quiet(); await settle(false); }),
  button("Keep this version", async () => { quiet(); await settle(true); }, { kind: "main" })));

watch.addEventListener("refused", ({ detail }) => announce(`Not saved: ${detail}. Your changes are kept in this browser.`, button("Try again", () => { quiet(); save(); }, { kind: "main" })));

/** A folder that was damaged opens with a copy: that is said once on each page, until it is taken note of. */
async function sayWhatWasDamaged() {
  const { said } = await call("GET", "/api/copies");
  if (said) announce(said, button("All right", quiet));
}

let knocking = 0;
connection.addEventListener("offline", () => {
  announce("The program is not answering. Your changes are kept in this browser; start ‘ellwand serve’ again to continue.");
  clearInterval(knocking);
  knocking = setInterval(() => call("GET", "/api/projects").catch(() => {}), 2000);
});
connection.addEventListener("online", () => { clearInterval(knocking); quiet(); });
connection.addEventListener("signed-out", () => {
  clearInterval(knocking);
  announce("This page is no longer signed in. Open the address that ‘ellwand serve’ prints; your changes are kept in this browser.");
});

addEventListener("hashchange", () => route());
route({ moveFocus: false }).then(stay);
