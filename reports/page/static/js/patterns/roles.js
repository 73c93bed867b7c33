/** What an outline of a file can be: its words, its letter, and how it is drawn; and how sure that is. */

/** `[role, words, letter, class]`; the class gives colour and dash. */
const ROLES = [
  ["piece", "Cut line", "C", "cut-line"], ["sew line", "Sew line", "S", "sew-line"], ["inner line", "Inner line", "I", "inner-line"],
  ["cutout", "Cutout", "O", "cut-out"], ["grain", "Grainline", "G", "grain-line"], ["fold", "Fold", "F", "fold-line"],
  ["notch", "Notch", "N", "notch-mark"], ["drill point", "Hole or point", "H", "hole-mark"], ["frame", "Frame, test square", "R", "frame-line"],
  ["another size", "Another size", "Z", "other-size"], ["left out", "Left out", "X", "out-line"],
];
const REST = ["rest", "Not drawn, said again", "–", "rest-line"];

const SURE = {
  told: "You said so", legend: "By your legend", named: "Named in the file", placed: "By its place", guessed: "Guessed",
};

const byName = new Map(ROLES.map((row) => [row[0], row]));
const rowOf = (role) => byName.get(role) ?? REST;

/** What a person can say. */
export const DECIDED = ROLES.map(([role]) => role).filter((role) => role !== "another size");
export const ALL_ROLES = [...ROLES, REST].map(([role]) => role);
export const roleWords = (role) => rowOf(role)[1];
export const roleLetter = (role) => rowOf(role)[2];
export const roleClass = (role) => rowOf(role)[3];
export const roleKey = (role) => rowOf(role)[0];

/** How sure it is, with the reason where there is one. */
export const sureWords = ({ sure, reason }) => [SURE[sure], reason].filter(Boolean).join(": ");
export const sureMark = ({ sure }) => SURE[sure] ?? "";
