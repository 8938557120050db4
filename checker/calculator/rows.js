/* The list of cables: how many of each, one more, one fewer, none. */
const Rows = (() => {
  const { cableNote, element } = Told;

  /* cables: gives the list of keys and counts, as texts, which is changed in place. */
  const rows = (list, cables, { onChange, onEmptied }) => {
    const inputOf = (place) => list.querySelector(`#cable-${place}`);

    const rowOf = (row, place) => {
      const found = Data.cables.get(row.key.toLowerCase()), id = `cable-${place}`;
      const button = (text, label, act) => {
        const made = element("button", { type: "button", "aria-label": `${label} ${row.key}` }, text);
        made.addEventListener("click", act);
        return made;
      };
      const input = element("input", {
        id, type: "text", inputmode: "numeric", value: row.count, "aria-label": `How many of ${row.key}`, "aria-describedby": `${id}-error`,
      });
      const told = () => {
        row.count = input.value;
        onChange();
      };
      const step = (by) => () => {
        input.value = String(Math.max(1, (Number(row.count) || 0) + by));
        told();
      };
      const drop = () => {
        cables().splice(place, 1);
        show();
        onChange();
        onEmptied();
      };
      input.addEventListener("input", told);
      return element("li", {},
        element("div", { class: "name" }, element("b", {}, row.key), " ", element("span", { class: "muted" }, found ? cableNote(found) : "")),
        element("div", { class: "count" }, button("−", "One fewer of", step(-1)), input, button("+", "One more of", step(1)),
          button("Take out", "Take out", drop)),
        element("p", { class: "error", id: `${id}-error` }));
    };

    const show = () => list.replaceChildren(...cables().map(rowOf));

    /* One more of a cable that stands there, else a row of its own; its number is what is typed next. */
    const add = (key) => {
      const same = cables().find((row) => row.key === key);
      if (same) same.count = String((Number(same.count) || 0) + 1);
      else cables().push({ key, count: "1" });
      show();
      onChange();
      const input = inputOf(cables().findIndex((row) => row.key === key));
      input.focus();
      input.select();
    };

    return { add, show };
  };

  return { rows };
})();
