/** The form of one outline: what it is, and of a piece its name, count, material, fold and grain; its lengths beside it. */

import { button, el } from "../lib/dom.js";
import { choiceField, numberField, textField, tickField } from "../lib/field.js";
import { formatField } from "../lib/units.js";
import { roleWords, sureWords } from "./roles.js";
import { edgesOf, lengthOf } from "./shape.js";

const MATERIALS = [["shell", "Shell"], ["lining", "Lining"], ["interfacing", "Interfacing"], ["rib", "Rib"]];
const MOST_EDGES = 40;

/**
 * `piece` is what the file gives now, if the outline is the cut line of one; `mode` is what clicks on the drawing do, set by `setMode`:
 * "", "grain", "fold" or "points".
 */
export function outlineForm({ outline, piece, decided, units, mode, setMode, lookAt }) {
  const role = decided.role(outline);
  const isTold = Boolean(decided.line(outline)?.role);
  const known = outline.roles.includes(role) ? [] : [[role, roleWords(role)]];
  const roles = outline.roles.length > 0 && choiceField({
    name: "role", label: "What it is", value: role, choices: [...known, ...outline.roles.map((each) => [each, roleWords(each)])],
    store: (value) => decided.say(outline, { role: value === outline.role && !outline.toldBefore ? null : value }),
  }).element;
  return el("section", { class: "card outline-form", "aria-label": `Outline ${outline.numbers[0]}` },
    el("h2", {}, `${outline.numbers[0]}: ${roleWords(role)}`, outline.piece && [" · ", el("bdi", { text: outline.piece })]),
    (isTold || outline.sure) && el("p", { class: "help", text: isTold && outline.sure !== "told" ? "You said so." : `${sureWords(outline)}.` }),
    el("p", { class: "help" }, el("bdi", { text: markWords(outline) })),
    outline.why && role === outline.role && !["told", "legend"].includes(outline.sure) && !outline.reason.includes(outline.why) && el("p", { class: "help", text: `Why: ${outline.why}.` }),
    roles || el("p", { class: "help", text: "Nothing can be decided of it here: the file hides it, or it cannot be drawn. Change it in the file." }),
    outline.size && textField({ name: "size", label: "Which size it is", text: decided.line(outline)?.size ?? outline.size, store: (value) => decided.say(outline, { size: value }, `size ${outline.numbers[0]}`) }).element,
    role === "piece" && pieceFields({ outline, piece, decided, mode, setMode, units }),
    lengths(outline, units),
    el("p", { class: "row" },
      role === "piece" && outline.handles.length > 2 && button(mode === "points" ? "Done with its points" : "Correct its points", () => setMode(mode === "points" ? "" : "points"), { "aria-pressed": String(mode === "points") }),
      button("Look at it", lookAt),
      (decided.line(outline) || decided.piece(outline)) && button("As it was read", () => decided.forget(outline), { kind: "quiet" })),
    mode === "points" && el("p", { class: "note", text: "Drag a point. By keys: Tab to a point, then arrows move it 1 mm, with Shift 10 mm, with Alt 0.1 mm." }),
    mode === "grain" && el("p", { class: "note", role: "status", text: "Click the drawing twice: where the grain begins, and where it ends. Within 2° of an edge or an axis it is set straight." }),
    mode === "fold" && el("p", { class: "note", role: "status", text: "Click the edge of the piece that lies on the fold." }));
}

function markWords({ called, mark, numbers }) {
  const parts = [mark.layer && `layer ‘${mark.layer}’`, mark.colour && `colour ${mark.colour}`, mark.dash && `line style ${mark.dash}`].filter(Boolean);
  const many = numbers.length > 1 ? `${numbers.length} lines joined; the first: ` : "";
  return `${many}${[called, ...(called.includes("on layer") ? parts.slice(1) : parts)].join(", ")}`;
}

function pieceFields({ outline, piece, decided, mode, setMode, units }) {
  const told = decided.piece(outline) ?? {};
  const put = (key) => (value) => decided.sayPiece(outline, { [key]: value }, `${key} ${outline.numbers[0]}`);
  const setPair = (value) => {
    const many = decided.piece(outline)?.cut ?? piece?.cut ?? 1; // what was typed since counts as well
    decided.sayPiece(outline, { pair: value, ...(value && many % 2 ? { cut: 2 * many } : {}) });
  };
  const edges = edgesOf(outline, outline.shown[0]);
  const straight = edges.map((edge, n) => ({ ...edge, n: n + 1 })).filter(({ isStraight, long }) => isStraight && long > 20).sort((a, b) => b.long - a.long).slice(0, MOST_EDGES);
  const edgeWords = ({ n, long }) => `Edge ${n}, ${formatField(long, units)}`;
  const lineOf = ({ a, b }) => [a, b].map(([x, y]) => [round(x), round(y)]);
  const foldNow = told.fold === "none" ? "none" : told.fold_line ? "own" : "as read";
  const setFold = (value) => {
    if (value === "as read") return decided.sayPiece(outline, { fold: null, fold_line: null });
    if (value === "none") return decided.sayPiece(outline, { fold: "none", fold_line: null });
    if (value === "click") return setMode("fold");
    if (value === "own") return undefined;
    return decided.sayPiece(outline, { fold: null, pair: null, fold_line: lineOf(straight.find(({ n }) => String(n) === value)) });
  };
  const box = outline.box;
  const middle = [(box.left + box.right) / 2, (box.low + box.high) / 2];
  const [wide, high] = [0.35 * (box.right - box.left), 0.35 * (box.high - box.low)];
  const setGrain = (value) => {
    const lines = { across: [[middle[0] - wide, middle[1]], [middle[0] + wide, middle[1]]], up: [[middle[0], middle[1] - high], [middle[0], middle[1] + high]] };
    if (value === "as read") return decided.sayPiece(outline, { grain: null, grain_line: null });
    if (value === "click") return setMode("grain");
    if (value === "own") return undefined;
    const edge = straight.find(({ n }) => String(n) === value);
    return decided.sayPiece(outline, { grain: null, grain_line: edge ? lineOf(edge) : lines[value].map(([x, y]) => [round(x), round(y)]) });
  };
  const isDrawn = piece && !piece.grainIsGuessed;
  /** What the file says, where something else is decided. */
  const asRead = (key, words = String) => {
    const read = piece?.read?.[key];
    return told[key] !== undefined && read !== undefined && read !== told[key] ? `As read: ${words(read)}` : undefined;
  };
  return el("div", { class: "fields" },
    textField({ name: "name", label: "Name", help: asRead("name"), text: told.name ?? outline.piece ?? "", store: put("name") }).element,
    numberField({ name: "cut", label: "How many to cut", help: asRead("cut"), value: told.cut ?? piece?.cut ?? 1, least: 1, most: 500, store: put("cut") }).element,
    tickField({ name: "pair", label: "Half of them mirrored, left and right", help: asRead("pair", (is) => (is ? "yes" : "no")), value: told.pair ?? piece?.mirrored ?? false, store: setPair }).element,
    choiceField({ name: "material", label: "Material", help: asRead("material"), value: told.material ?? piece?.material ?? "shell", choices: MATERIALS, store: put("material") }).element,
    choiceField({
      name: "fold", label: "Edge on a fold", value: mode === "fold" ? "click" : foldNow,
      choices: [["as read", piece?.on_fold && foldNow === "as read" ? "As the file says: one edge" : "As the file says"], ["none", "None"], ...(foldNow === "own" ? [["own", "The edge you gave"]] : []), ["click", "Click it on the drawing"], ...straight.map((edge) => [String(edge.n), edgeWords(edge)])],
      store: setFold,
    }).element,
    choiceField({
      name: "grain", label: "Grain", value: mode === "grain" ? "click" : told.grain_line ? "own" : "as read",
      choices: [["as read", isDrawn ? "As drawn in the file" : "Not drawn: guessed"], ...(told.grain_line ? [["own", "As you gave it"]] : []), ["click", "Two clicks on the drawing"], ["up", "Up and down in the file"], ["across", "Across in the file"], ...straight.map((edge) => [String(edge.n), `Along ${edgeWords(edge).toLowerCase()}`])],
      store: setGrain,
    }).element);
}

/** Lengths to hold against a tape. */
function lengths(outline, units) {
  const { box, shown } = outline;
  const size = `${formatField(box.right - box.left, units)} wide, ${formatField(box.high - box.low, units)} high in the file`;
  const total = `${formatField(lengthOf(shown, outline.closed), units)} ${outline.closed ? "all round" : "long"}`;
  if (outline.handles.length < 3) return el("p", { class: "help", text: `${size}; ${total}.` });
  const edges = edgesOf(outline, shown[0]).slice(0, MOST_EDGES);
  return el("details", { open: edges.length < 9 }, el("summary", { text: `Lengths: ${size}; ${total}` }),
    el("ol", { class: "edge-lengths" }, edges.map(({ long, isStraight }, n) => el("li", {}, el("span", { text: `Edge ${n + 1}` }), el("b", { text: formatField(long, units) }), !isStraight && el("span", { class: "help", text: "curved" })))),
    el("p", { class: "help", text: "Edges run from corner to corner, in the order of their numbers on the drawing." }));
}

const round = (value) => Math.round(value * 100) / 100;
