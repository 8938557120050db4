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

  // the plans of the storeys, and the way of a circuit through them
  class Plans {
    constructor(box) {
      this.box = box;
      this.circuit = box.querySelector("#plan-circuit");
      this.way = box.querySelector("#plan-way");
      this.names = new Map();
      for (const one of box.querySelector("#plan-names").content.children) this.names.set(one.value, one.textContent);
      const storey = box.querySelector("#plan-storey");
      storey.addEventListener("change", () => {
        for (const plan of box.querySelectorAll("figure")) plan.hidden = storey.value !== "" && storey.value !== plan.id;
      });
      const size = box.querySelector("#plan-size");
      size.addEventListener("change", () => {
        for (const sheet of box.querySelectorAll(".sheet")) sheet.className = `scroll sheet ${size.value}`;
      });
      for (const shows of box.querySelectorAll("[data-shows]")) {
        const change = () => box.classList.toggle(`without-${shows.dataset.shows}`, !shows.checked);
        shows.addEventListener("change", change);
        change();
      }
      if (this.circuit) this.listen();
      box.querySelector(".tools").hidden = false;
    }

    listen() {
      this.options = [...this.circuit.options];
      this.circuit.addEventListener("change", () => this.show());
      const find = this.box.querySelector("#plan-find");
      find?.addEventListener("input", () => {
        const words = find.value.toLowerCase().split(/\s+/).filter(Boolean);
        const has = (option) => words.every((word) => option.textContent.toLowerCase().includes(word));
        const chosen = this.circuit.selectedOptions[0];
        // what is chosen stays, so that the list says what the plans show
        const found = this.options.filter((option, place) => place === 0 || option === chosen || has(option));
        this.circuit.replaceChildren(...found);
        chosen.selected = true;
      });
      this.link();
      if (this.circuit.selectedIndex > 0) this.show();
    }

    // a button in each row of the table of circuits; its words are the style's, so that no search finds them
    link() {
      const table = document.querySelector("#circuits-table");
      if (!table) return;
      const byMark = new Map();
      for (const option of this.options.slice(1)) if (!byMark.has(option.textContent)) byMark.set(option.textContent, option);
      const heads = [...table.tHead.rows[0].cells].map((head) => head.textContent);
      const place = Math.max(0, heads.findIndex((head) => head.startsWith("Way")));
      for (const row of table.querySelectorAll("tbody tr")) {
        const option = byMark.get(row.cells[0].querySelector("b")?.textContent);
        if (!option?.dataset.way && !option?.dataset.breaks) continue;
        const button = document.createElement("button");
        button.type = "button";
        button.className = "on-plans";
        button.setAttribute("aria-label", `On the plans: ${option.dataset.way ? "the way of" : "what breaks the way of"} ${option.textContent}`);
        row.cells[place].append(" ", button);
        button.addEventListener("click", () => {
          if (!option.isConnected) this.circuit.append(option);
          option.selected = true;
          this.show();
          this.circuit.focus();
          this.way.scrollIntoView({ block: "nearest" });
        });
      }
    }

    show() {
      for (const old of this.box.querySelectorAll(".plan .on")) old.classList.remove("on");
      for (const old of this.box.querySelectorAll(".steps, .plan .around")) old.remove();
      const option = this.circuit.selectedOptions[0];
      const chosen = option !== this.options[0];
      this.box.classList.toggle("way-shown", chosen);
      this.way.replaceChildren();
      if (!chosen) return;
      const said = document.createElement("p");
      said.textContent = `${option.textContent}: ${option.dataset.said}`;
      const list = document.createElement("ol");
      const steps = new Map();
      for (const [place, number] of option.dataset.way.split(" ").filter(Boolean).entries()) {
        const drawn = document.getElementById(`n${number}`);
        const item = document.createElement("li");
        item.textContent = `${this.names.get(number)}${drawn ? "" : " (not drawn)"}`;
        list.append(item);
        if (drawn) steps.set(drawn, [...(steps.get(drawn) ?? []), place + 1]);
      }
      const broken = (option.dataset.breaks ?? "").split(" ").filter(Boolean).map((number) => `[data-break="${number}"]`);
      const signs = [...broken, `[data-for~="${option.dataset.number}"]`].join();
      for (const sign of this.box.querySelectorAll(signs)) sign.classList.add("on");
      for (const [drawn, places] of steps) {
        drawn.classList.add("on");
        this.band(drawn);
        this.number(drawn, places.join(", "));
      }
      this.way.append(said);
      if (list.children.length) this.way.append(list);
    }

    // a group of a plan that is there only while a way is shown
    group(plan, name, add) {
      let group = plan.querySelector(`.${name}`);
      if (!group) {
        group = document.createElementNS(plan.namespaceURI, "g");
        group.setAttribute("class", name);
        add(group);
      }
      return group;
    }

    // a band around a carrier, beneath all else
    band(drawn) {
      const plan = drawn.ownerSVGElement;
      const outline = document.createElementNS(plan.namespaceURI, "path");
      outline.setAttribute("d", drawn.getAttribute("d"));
      this.group(plan, "around", (group) => plan.querySelector(":scope > g").before(group)).append(outline);
    }

    // the place of a carrier in the way, on the middle of its first piece
    number(drawn, text) {
      const plan = drawn.ownerSVGElement;
      const group = this.group(plan, "steps", (made) => plan.append(made));
      const corners = drawn.getAttribute("d").match(/-?[\d.]+/g).slice(0, 8).map(Number);
      const x = (corners[0] + corners[4]) / 2;
      let y = (corners[1] + corners[5]) / 2;
      const near = (other) => Math.abs(other.getAttribute("x") - x) < 18 && Math.abs(other.getAttribute("y") - y) < 15;
      while ([...group.children].some(near)) y += 15;
      const label = document.createElementNS(plan.namespaceURI, "text");
      label.setAttribute("x", x);
      label.setAttribute("y", y);
      label.textContent = text;
      group.append(label);
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
    for (const box of document.querySelectorAll(".plans")) new Plans(box);
    for (const box of document.querySelectorAll(".live")) tables.push(new LiveTable(box));
  });
})();
