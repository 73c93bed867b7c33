/** A pattern file in the notebook: its lines to look at and decide on, and a project begun with its pieces. */

import { call } from "../lib/api.js";
import { button, el } from "../lib/dom.js";
import { freshData, offerRib } from "../project/fresh.js";
import { traced } from "../project/photographed.js";
import { create } from "../project/project.js";
import { units } from "../project/settings.js";

export async function patternPart(thing, app) {
  const within = el("div", { class: "stack" });
  const begin = async ({ pieces_file: kept, pieces }) => {
    const data = freshData({ name: "imported", materials: [] });
    Object.assign(data.job, { body: {}, pieces_file: kept });
    offerRib(data, pieces.some(({ material }) => material === "rib"));
    await create(thing.name, data);
    app.go("cloth");
  };
  const look = async () => {
    within.replaceChildren(el("p", { class: "loading", text: "Reading the file …" }));
    try {
      const { conversation } = await import("../patterns/conversation.js");
      const { id } = await call("GET", `/api/patterns?${new URLSearchParams({ pieces_file: thing.id })}`);
      const answer = await call("GET", `/api/patterns/${id}`);
      const lines = el("div", { class: "stack" });
      within.replaceChildren(lines, answer.photo ? traced(answer.photo, units()) : "");
      await conversation(lines, answer, { use: begin, useWords: "Begin a project with these pieces" });
    } catch (error) {
      within.replaceChildren(el("p", { class: "note", role: "alert", text: error.message }));
    }
  };
  within.append(el("p", { class: "row" }, button("Look at its lines", look, { kind: "main" })));
  return within;
}
