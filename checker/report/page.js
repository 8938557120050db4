"use strict";
// Without this script the page is whole; with it tables can be sorted and filtered, and long ones are laid out in parts.
(() => {
  const WAIT_MS = 150;
  const collator = new Intl.Collator("en", { numeric: true });
  const tables = [];
  document.documentElement.classList.add("js");

  class LiveTable {
    constructor(box) {
      this.box = box;
      this.table = box.querySelector("table");
      this.body = this.table.tBodies[0];
      this.rows = [...this.table.tBodies].flatMap((body) => [...body.rows]);
      this.found = this.rows;
      this.part = Number(box.dataset.part);
      this.room = this.part;
      this.search = box.querySelector("input[type=search]");
      this.selects = [...box.querySelectorAll("select")];
      this.count = box.querySelector(".count");
      this.further = box.querySelector(".further");
      this.texts = new Map();
      for (const body of [...this.table.tBodies].slice(1)) body.remove();
      this.listen();
      this.show();
    }

    listen() {
      for (const [place, head] of [...this.table.tHead.rows[0].cells].entries()) {
        const button = document.createElement("button");
        button.type = "button";
        button.append(...head.childNodes);
        button.addEventListener("click", () => this.sort(place, head));
        head.append(button);
      }
      const controls = this.box.querySelector(".controls");
      const more = controls.querySelector("input[type=checkbox]");
      const small = this.table.querySelector(".small") !== null;
      more.parentElement.hidden = !small;
      this.table.classList.add("brief");
      more.addEventListener("change", () => this.table.classList.toggle("brief", !more.checked));
      this.search.addEventListener("input", () => {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.filter(), WAIT_MS);
      });
      for (const select of this.selects) select.addEventListener("change", () => this.filter());
      const press = (name, act) => this.box.querySelector(`[data-act=${name}]`).addEventListener("click", act);
      press("clear", () => this.clear());
      press("more", () => this.grow(this.room + this.part));
      press("all", () => this.grow(Infinity));
      controls.hidden = false;
    }

    text(row) {
      let text = this.texts.get(row);
      if (text === undefined) {
        text = row.textContent.toLowerCase();
        this.texts.set(row, text);
      }
      return text;
    }

    filter() {
      const words = this.search.value.toLowerCase().split(/\s+/).filter(Boolean);
      const chosen = this.selects.filter((select) => select.selectedIndex > 0);
      this.found = this.rows.filter(
        (row) =>
          chosen.every((select) => row.cells[select.dataset.column].dataset.k === select.value) &&
          words.every((word) => this.text(row).includes(word)),
      );
      this.said = chosen.map((select) => `${select.dataset.label} is ${select.selectedOptions[0].text}`);
      if (words.length) this.said.push(`text has ${words.join(" and ")}`);
      this.room = this.part;
      this.show();
    }

    clear() {
      clearTimeout(this.timer);
      this.search.value = "";
      for (const select of this.selects) select.selectedIndex = 0;
      this.filter();
    }

    sort(place, head) {
      const numbers = head.dataset.by === "number";
      const before = head.getAttribute("aria-sort");
      const down = before ? before === "ascending" : numbers;
      for (const other of head.parentElement.cells) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const key = (row) => {
        const cell = row.cells[place];
        const value = cell.dataset.v ?? cell.textContent;
        if (!numbers || value === "") return value;
        return Number(value);
      };
      const keys = new Map(this.rows.map((row) => [row, key(row)]));
      const compare = numbers ? (a, b) => a - b || 0 : collator.compare;
      // what isn't known stands at the end in both directions
      this.rows.sort((one, two) => {
        const [a, b] = [keys.get(one), keys.get(two)];
        if (a === "" || b === "") return (a === "") - (b === "");
        return down ? compare(b, a) : compare(a, b);
      });
      const found = new Set(this.found);
      this.found = this.rows.filter((row) => found.has(row));
      this.show();
    }

    grow(room) {
      const held = this.further.contains(document.activeElement);
      this.room = room;
      this.show();
      if (held && this.further.hidden) this.box.querySelector(".scroll").focus();
    }

    show(room = this.room) {
      const shown = this.found.slice(0, room);
      this.body.replaceChildren(...shown);
      this.further.hidden = shown.length === this.found.length;
      this.further.querySelector("[data-act=all]").textContent = `Show all ${this.found.length}`;
      let text = `${shown.length} of ${this.rows.length} rows shown`;
      if (this.said?.length) text += `, ${this.found.length} found where ${this.said.join(", ")}`;
      this.count.textContent = `${text}.`;
    }
  }

  // on paper nothing folds away: all rows that were found, and all of what is folded
  let folded = [];
  addEventListener("beforeprint", () => {
    for (const table of tables) table.show(Infinity);
    folded = [...document.querySelectorAll("details:not([open])")];
    for (const part of folded) part.open = true;
  });
  addEventListener("afterprint", () => {
    for (const table of tables) table.show();
    for (const part of folded) part.open = false;
  });
  document.addEventListener("DOMContentLoaded", () => {
    for (const box of document.querySelectorAll(".live")) tables.push(new LiveTable(box));
  });
})();
