// Not a module: it runs before anything is painted, so that a dark page never flashes light.
(() => {
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const set = () => {
    let chosen = "auto";
    try { chosen = localStorage.getItem("ellwand.theme") ?? "auto"; } catch { /* storage may be off */ }
    document.documentElement.dataset.theme = chosen === "auto" ? (dark.matches ? "dark" : "light") : chosen;
  };
  dark.addEventListener("change", set);
  addEventListener("ellwand-theme", set);
  set();
})();
