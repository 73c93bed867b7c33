/** Which of a tube's two widths is meant. */

import { choiceField } from "../lib/field.js";

/** How a width of a tube was measured. */
export const MEASURED = [["", "Say which"], ["lay_flat", "Lying flat"], ["opened", "Cut open"]];

/** Which width of a tube is meant where widths are asked for: a field if the first cloth is one. `asked` keeps it. */
export function tubeAsked(app, asked) {
  if (app.project.data.job.fabric?.[0]?.spread !== "tube") {
    delete asked.tube;
    return null;
  }
  return choiceField({ name: "options.tube", label: "Widths are", value: asked.tube ?? "", choices: MEASURED, store: (way) => { asked.tube = way || undefined; } }).element;
}
