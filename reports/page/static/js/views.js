/**
 * The views of a project. Each module exports `show(element, app)`: it fills the element, and may return (or
 * promise) a function that is run when the view is left. `app` has `catalogue`, `project`, `change`,
 * `steps` and `go(name)`; of a view outside any project, `path` is what follows its name in the address.
 */

/** The four steps, in order, on the tape. */
export const STEPS = [
  { name: "who", title: "Who", load: () => import("./steps/who.js") },
  { name: "garment", title: "Garment", load: () => import("./steps/garment.js") },
  { name: "cloth", title: "Cloth", load: () => import("./steps/cloth.js") },
  { name: "answer", title: "Answer", load: () => import("./steps/answer.js") },
];

/** What else can be looked at. */
export const MORE = [
  { name: "compare", title: "Compare", load: () => import("./ask/compare.js") },
  { name: "chart", title: "Chart", load: () => import("./ask/chart.js") },
  { name: "run", title: "Run", load: () => import("./ask/run.js") },
  { name: "cutting", title: "Cut", load: () => import("./cutting/cutting.js") },
  { name: "downloads", title: "Files", load: () => import("./ask/downloads.js") },
  { name: "uploads", title: "Patterns", load: () => import("./steps/uploads.js") },
];

/** Outside any project. */
export const SHELF = { name: "projects", title: "Projects", load: () => import("./project/projects.js") };

/** All that is kept. */
export const NOTEBOOK = { name: "notebook", title: "Notebook", load: () => import("./notebook/notebook.js") };

/** What goes with all projects. */
export const LEDGER = { name: "ledger", title: "On hand", load: () => import("./ledger/ledger.js") };
