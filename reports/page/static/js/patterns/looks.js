/** The looks of pattern files and legends: loaded with the first view that needs them. */

import { el } from "../lib/dom.js";

export async function dressed() {
  if (document.getElementById("patterns-css")) return;
  const link = el("link", { rel: "stylesheet", href: "css/patterns.css", id: "patterns-css" });
  await new Promise((resolve) => { for (const event of ["load", "error"]) link.addEventListener(event, resolve); document.head.append(link); });
}
