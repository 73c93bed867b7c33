/** What is decided of a file while it is looked at: kept as the small file beside pieces has it, with undo. */

/** `told` is `{piece: [...], line: [...]}`; `onChange()` hears of each change. */
export function decisions(told, onChange) {
  let now = copy(told);
  let saved = JSON.stringify(now);
  const before = [];

  const change = (make, mark = "") => {
    const top = before.at(-1);
    if (!mark || top?.mark !== mark) before.push({ mark, told: JSON.stringify(now) });
    make(now);
    onChange();
  };
  const line = (outline) => now.line.find(({ numbers }) => numbers[0] === outline.numbers[0]) ?? now.line.find(isOf(outline));
  const isOf = (outline) => ({ numbers }) => numbers.some((number) => outline.numbers.includes(number));
  const piece = (outline) => now.piece.find((one) => one.line === outline.numbers[0]);

  /** The one entry for the lines of an outline; where they were joined otherwise, what is said of other lines stays. */
  const own = (outline) => {
    const entry = line(outline);
    if (!entry || sameNumbers(entry.numbers, outline.numbers)) return entry;
    const { moved, ...rest } = entry;
    const others = now.line.filter((one) => one !== entry && isOf(outline)(one));
    for (const one of [rest, ...others]) one.numbers = one.numbers.filter((number) => !outline.numbers.includes(number));
    for (const one of [rest, ...others]) { delete one.at; delete one.long; }
    now.line = now.line.filter(({ numbers }) => numbers.length);
    if (rest.numbers.length) now.line.push(rest);
    Object.assign(entry, { numbers: outline.numbers, at: outline.at, long: outline.long });
    return entry;
  };

  /** Change one entry; one that says nothing any more is gone. */
  const put = (kind, find, fresh, values, mark) => change((all) => {
    let entry = find();
    if (!entry) all[kind].push(entry = fresh());
    for (const [key, value] of Object.entries(values)) {
      if (value === null || value === "" || value?.length === 0) delete entry[key];
      else entry[key] = value;
    }
    const named = ["numbers", "line", "at", "long"];
    if (Object.keys(entry).every((key) => named.includes(key))) all[kind].splice(all[kind].indexOf(entry), 1);
  }, mark);

  return {
    get told() { return now; },
    get isChanged() { return JSON.stringify(now) !== saved; },
    get canUndo() { return before.length > 0; },
    line, piece,
    role: (outline) => line(outline)?.role ?? outline.role,
    moved: (outline) => line(outline)?.moved ?? [],
    say: (outline, values, mark) => put("line", () => own(outline), () => ({ numbers: outline.numbers, at: outline.at, long: outline.long }), values, mark),
    sayPiece: (outline, values, mark) => put("piece", () => piece(outline), () => ({ line: outline.numbers[0], at: outline.at, long: outline.long_first }), values, mark),
    forget: (outline) => change((all) => {
      const entry = own(outline);
      all.line = all.line.filter((one) => one !== entry);
      all.piece = all.piece.filter((one) => one !== piece(outline));
    }),
    undo: () => { now = JSON.parse(before.pop().told); onChange(); },
    /** What the server has now: nothing is left to apply, and all can still be undone. */
    take: (told) => { now = copy(told); saved = JSON.stringify(now); onChange(); },
  };
}

const sameNumbers = (some, others) => some.length === others.length && some.every((number, at) => number === others[at]);

const copy = (told) => ({ piece: structuredClone(told?.piece ?? []), line: structuredClone(told?.line ?? []) });
