// What this tablet remembers: nothing, unless a short code was typed.
// The code itself is kept for this tab only, so that the next person starts clean.
const Memory = (() => {
  "use strict";

  const { quietly } = Dom;
  let code = "";
  let prefix = "";
  let page = "";
  let stamp = "";

  const folded = (text) => text.toUpperCase().replace(/[^A-Z0-9]/g, "").slice(0, 12);
  const CODE = "gearside|code";
  const place = () => `gearside|${code}|${prefix}|${page}`;

  function open(dataset) {
    prefix = dataset.storage;
    page = dataset.page;
    stamp = dataset.stamp;
    code = quietly(() => folded(sessionStorage.getItem(CODE) || ""), "");
    return code;
  }

  function use(typed) {
    code = folded(typed);
    return quietly(() => {
      if (code) sessionStorage.setItem(CODE, code);
      return code;
    }, "");
  }

  function read() {
    if (!code) return {};
    const kept = quietly(() => JSON.parse(localStorage.getItem(place())), null);
    return kept && kept.stamp === stamp && typeof kept.exercises === "object" ? kept.exercises : {};
  }

  function write(exercises) {
    if (!code) return true;
    return quietly(() => {
      localStorage.setItem(place(), JSON.stringify({ stamp, exercises }));
      return true;
    }, false);
  }

  /** Forgets everything kept under the code, on every page, and the code. */
  function clear() {
    quietly(() => {
      const mine = (key) => code && key.startsWith(`gearside|${code}|`);
      for (const key of Object.keys(localStorage).filter(mine)) localStorage.removeItem(key);
      sessionStorage.removeItem(CODE);
    });
    code = "";
  }

  return { open, use, read, write, clear, code: () => code };
})();
