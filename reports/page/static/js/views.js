/**
 * The views of a project. Each module exports `show(element, app)`: it fills the element, and may return (or
 * promise) a function that is run when the view is left. `app` has `catalogue`, `project`, `change` and `go(name)`.
 */

/** The four steps, in order, on the tape. */
export const STEPS = [
  { name: "who", title: "Who", load: () => import("./who.js") },
  { name: "garment", title: "Garment", load: () => import("./garment.js") },
  { name: "cloth", title: "Cloth", load: () => import("./cloth.js") },
  { name: "answer", title: "Answer", load: () => import("./answer.js") },
];

/** What else can be looked at. */
export const ROOMS = [
  { name: "compare", title: "Compare", load: () => import("./compare.js") },
  { name: "chart", title: "Chart", load: () => import("./chart.js") },
  { name: "run", title: "Run", load: () => import("./run.js") },
  { name: "downloads", title: "Files", load: () => import("./downloads.js") },
  { name: "uploads", title: "Patterns", load: () => import("./uploads.js") },
];

/** Outside any project. */
export const SHELF = { name: "projects", title: "Projects", load: () => import("./projects.js") };

export const VIEWS = [SHELF, ...STEPS, ...ROOMS];
