"use strict";
(() => {
  const body = document.body;
  const about = body.dataset;
  const FORMAT = "jointcalc-bench";
  const FIELDS = ["measured", "accepted", "by", "date"];
  const shelf = `${FORMAT}/${about.project}/`;
  const place = `${shelf}${about.inputs}/${about.units}`;
  const byId = (id) => document.getElementById(id);
  const all = (selector, of = document) => Array.from(of.querySelectorAll(selector));
  const items = new Map(all("[data-item]").map((one) => [one.dataset.item, one]));

  // --- what the browser keeps -----------------------------------------------------------------------------

  let keeps = true;
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch (e) { keeps = false; return null; } },
    set(key, text) { try { localStorage.setItem(key, text); } catch (e) { keeps = false; } },
    drop(key) { try { localStorage.removeItem(key); } catch (e) { keeps = false; } },
    keys() { try { return Object.keys(localStorage); } catch (e) { keeps = false; return []; } },
  };
  const said = byId("said");
  const say = (text) => { said.textContent = text; };
  const plural = (n, word) => `${n} ${word}${n === 1 ? "" : "s"}`;

  const boxes = (group) => all("input[type=checkbox]", group);
  const field = (row, name) => row.querySelector(`[data-field=${name}]`);

  function gather() {
    const state = {
      format: FORMAT, version: 1, project: about.project, title: about.title, inputs: about.inputs,
      units: about.units, items: {},
    };
    for (const [id, item] of items) {
      const ticks = {};
      const lines = {};
      for (const group of all("[data-group]", item)) {
        const done = boxes(group).filter((box) => box.checked).map((box) => box.dataset.no);
        if (done.length) ticks[group.dataset.group] = done;
      }
      for (const row of all("[data-entry]", item)) {
        const filled = {};
        for (const name of FIELDS) if (field(row, name).value) filled[name] = field(row, name).value;
        if (Object.keys(filled).length) lines[row.dataset.entry] = filled;
      }
      if (Object.keys(ticks).length || Object.keys(lines).length) {
        state.items[id] = { of: item.dataset.of, ticks, checklist: lines };
      }
    }
    return state;
  }

  const text = () => JSON.stringify(gather(), null, 1);

  function read(written) {
    let state;
    try { state = JSON.parse(written); } catch (e) { throw new Error("This is no JSON: nothing was taken."); }
    if (!state || state.format !== FORMAT || state.version !== 1 || typeof state.items !== "object" || !state.items) {
      throw new Error("This is no file of a bench page: nothing was taken.");
    }
    if (state.project !== about.project) {
      throw new Error(`This belongs to another project, "${state.title}": nothing was taken.`);
    }
    if (state.units !== about.units) {
      throw new Error(`This was measured in other units (${state.units}): open the page of those units.`);
    }
    return state;
  }

  // Adds what a state holds to the page: ticks come together, fields that are empty are filled. Only items that are
  // the same today: what was ticked on another thing is no tick of this one.
  function add(state) {
    let taken = 0, changed = 0, differs = 0;
    for (const [id, held] of Object.entries(state.items)) {
      const item = items.get(id);
      if (!item || item.dataset.of !== held.of) { changed += 1; continue; }
      taken += 1;
      for (const group of all("[data-group]", item)) {
        const done = (held.ticks || {})[group.dataset.group];
        if (Array.isArray(done)) for (const box of boxes(group)) if (done.includes(box.dataset.no)) box.checked = true;
      }
      for (const row of all("[data-entry]", item)) {
        const filled = (held.checklist || {})[row.dataset.entry] || {};
        for (const name of FIELDS) {
          const at = field(row, name);
          const value = typeof filled[name] === "string" ? filled[name].slice(0, 200) : "";
          if (!value) continue;
          if (!at.value) at.value = value;
          else if (at.value !== value) differs += 1;
        }
      }
    }
    return { taken, changed, differs };
  }

  function empty() {
    for (const box of all("[data-item] input[type=checkbox]")) box.checked = false;
    for (const at of all("[data-field]")) at.value = "";
  }

  function told({ taken, changed, differs }) {
    let words = `Taken over: ${plural(taken, "item")}.`;
    if (changed) words += ` Left out: ${plural(changed, "item")} that changed since or are not here.`;
    if (differs) words += ` ${plural(differs, "field")} held something else and kept it.`;
    return words;
  }

  // Only what was changed here is written: a page that was left open knows less than the one in use.
  let unsaved = false;
  function save() {
    unsaved = false;
    const state = gather();
    if (Object.keys(state.items).length) store.set(place, JSON.stringify(state));
    else store.drop(place);
    byId("keeps").hidden = keeps;
    byId("copied").value = "";
    byId("copied").hidden = true;
    byId("copied-label").hidden = true;
  }

  // --- counts ---------------------------------------------------------------------------------------------

  function count(item) {
    const parts = [];
    for (const group of all("[data-group]", item)) {
      const of = boxes(group);
      const done = of.filter((box) => box.checked).length;
      group.querySelector("[data-count]").textContent = `${done} of ${of.length}`;
      parts.push([group.dataset.what, done, of.length]);
    }
    const rows = all("[data-entry]", item);
    for (const row of rows) row.classList.toggle("filled", FIELDS.some((name) => field(row, name).value !== ""));
    if (rows.length) {
      const yes = rows.filter((row) => field(row, "accepted").value === "yes").length;
      const no = rows.filter((row) => field(row, "accepted").value === "no").length;
      const words = `${yes} of ${rows.length} accepted` + (no ? `, ${no} not accepted` : "");
      item.querySelector("[data-lines]").textContent = words;
      parts.push(["accepted", yes, rows.length]);
    }
    const sums = new Map();
    for (const [what, done, of] of parts) {
      const [a, b] = sums.get(what) || [0, 0];
      sums.set(what, [a + done, b + of]);
    }
    const short = Array.from(sums, ([what, [a, b]]) => `${a}/${b} ${what}`).join(", ");
    for (const cell of all("[data-done]")) if (cell.dataset.done === item.dataset.item) cell.textContent = short;
    return parts;
  }

  // --- what is done by hand -------------------------------------------------------------------------------

  const today = () => {
    const now = new Date();
    const two = (n) => String(n).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  };

  body.addEventListener("change", (event) => {
    const at = event.target;
    if (at.id === "by") { store.set(`${FORMAT}/by`, at.value); return; }
    const item = at.closest("[data-item]");
    if (!item) return;
    const row = at.closest("[data-entry]");
    if (row && (at.dataset.field === "measured" || at.dataset.field === "accepted") && at.value) {
      if (!field(row, "by").value) field(row, "by").value = byId("by").value;
      if (!field(row, "date").value) field(row, "date").value = byId("date").value;
    }
    const parts = count(item);
    save();
    const group = at.closest("[data-group]");
    if (group) {
      say(`${item.dataset.item}: ${group.querySelector("[data-count]").textContent} ${group.dataset.what} ticked.`);
    } else if (row) {
      const [, yes, of] = parts[parts.length - 1];
      say(`${item.dataset.item}: ${yes} of ${of} lines of the checklist accepted.`);
    }
  });
  // a value that is being typed is kept too when the page goes to sleep
  body.addEventListener("input", (event) => { if (event.target.closest("[data-item]")) unsaved = true; });
  addEventListener("pagehide", () => { if (unsaved) save(); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden" && unsaved) save();
  });
  // the same page open twice: this one follows what is ticked in the other
  addEventListener("storage", (event) => {
    if (event.key !== place || event.newValue === null) return;
    empty();
    add(read(event.newValue));
    for (const item of items.values()) count(item);
  });

  byId("download").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text()], { type: "application/json" }));
    link.download = `${about.file}.json`;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    say(`Saved as ${link.download}, where this browser keeps downloads.`);
  });

  byId("show").addEventListener("click", () => {
    const box = byId("copied");
    box.hidden = false;
    byId("copied-label").hidden = false;
    box.value = text();
    box.focus();
    box.select();
    let done = false;
    try { done = document.execCommand("copy"); } catch (e) { done = false; }
    say(done ? "Copied. The text stands below as well." : "The text stands below, selected: copy it.");
  });

  function take(written) {
    try {
      const found = add(read(written));
      for (const item of items.values()) count(item);
      save();
      say(told(found));
    } catch (error) {
      say(error.message);
    }
  }

  byId("file").addEventListener("change", (event) => {
    const file = event.target.files[0];
    if (!file) return;
    file.text().then((written) => { take(written); event.target.value = ""; });
  });
  byId("take").addEventListener("click", () => { take(byId("pasted").value); });

  byId("clear").addEventListener("click", () => {
    if (!confirm("Take away all ticks and values of this page? Save them first if they count.")) return;
    empty();
    for (const item of items.values()) count(item);
    save();
    say("All ticks and values of this page are taken away.");
  });

  // --- what was ticked on an earlier state of the project ---------------------------------------------------

  function earlier() {
    const found = [];
    for (const key of store.keys()) {
      if (!key.startsWith(shelf) || key === place) continue;
      try { found.push([key, read(store.get(key))]); } catch (e) { /* of other units, or spoilt: left alone */ }
    }
    byId("earlier").hidden = found.length === 0;
    if (!found.length) return;
    const held = found.map(([, state]) => Object.keys(state.items).length);
    byId("earlier-told").textContent =
      `This browser holds ticks or values on ${plural(held.reduce((a, b) => a + b, 0), "item")} of ` +
      `${plural(found.length, "earlier state")} of this project. They are not shown: the project has changed since.`;
    byId("earlier-take").onclick = () => {
      const sum = { taken: 0, changed: 0, differs: 0 };
      for (const [, state] of found) {
        const one = add(state);
        for (const name of Object.keys(sum)) sum[name] += one[name];
      }
      for (const item of items.values()) count(item);
      save();
      say(told(sum));
    };
    byId("earlier-drop").onclick = () => {
      if (!confirm("Forget what was ticked on earlier states of this project?")) return;
      for (const [key] of found) store.drop(key);
      earlier();
      say("Forgotten.");
    };
  }

  // --- at the start -----------------------------------------------------------------------------------------

  body.classList.add("live");
  for (const part of all("[data-script]")) part.hidden = false;
  byId("by").value = store.get(`${FORMAT}/by`) || "";
  byId("date").value = today();
  const kept = store.get(place);
  if (kept !== null) { try { add(read(kept)); } catch (e) { say(e.message); } }
  for (const item of items.values()) count(item);
  earlier();
  byId("keeps").hidden = keeps;
})();
