/* A field that finds things by parts of their names: a combobox by the pattern of ARIA, for fingers, keys and screen readers. */
const Picker = (() => {
  const MOST_SHOWN = 40;

  /* Those of whose words all that was typed are a part; what begins so stands first. */
  const search = (items, text) => {
    const words = text.toLowerCase().split(/\s+/).filter(Boolean);
    const found = items.filter((item) => words.every((word) => item.words.includes(word)));
    const isFirst = (item) => (words.length && item.key.startsWith(words[0]) ? 0 : 1);
    return found.map((item, place) => [isFirst(item), place, item]).sort((a, b) => a[0] - b[0] || a[1] - b[1]).map(([, , item]) => item);
  };

  /* items: key, note (shown beside it), words (searched). free: an item for a text that is none of them, or null. */
  const picker = (input, list, items, { free = () => null, onPick }) => {
    let shown = [], active = -1;
    const isOpen = () => !list.hidden;

    const close = () => {
      list.hidden = true;
      active = -1;
      input.setAttribute("aria-expanded", "false");
      input.removeAttribute("aria-activedescendant");
    };

    const mark = (place) => {
      active = place;
      [...list.querySelectorAll("[role=option]")].forEach((option, at) => {
        option.setAttribute("aria-selected", String(at === place));
        if (at === place) {
          input.setAttribute("aria-activedescendant", option.id);
          option.scrollIntoView({ block: "nearest" });
        }
      });
    };

    const open = () => {
      const own = free(input.value), found = search(items, input.value);
      shown = [...(own ? [own] : []), ...found.slice(0, MOST_SHOWN)];
      list.replaceChildren(...shown.map((item, place) => {
        const option = document.createElement("li"), name = document.createElement("b"), note = document.createElement("span");
        name.textContent = item.key;
        note.textContent = item.note;
        option.append(name, " ", note);
        Object.assign(option, { id: `${list.id}-${place}`, role: "option" });
        option.setAttribute("aria-selected", "false");
        option.addEventListener("click", () => pick(item));
        return option;
      }));
      const more = document.createElement("li");
      more.className = "muted";
      more.role = "presentation";
      if (!shown.length) more.textContent = "Nothing of that name.";
      else if (found.length > MOST_SHOWN) more.textContent = `And ${found.length - MOST_SHOWN} more: type on.`;
      if (more.textContent) list.append(more);
      active = -1;
      list.hidden = false;
      input.setAttribute("aria-expanded", "true");
      input.removeAttribute("aria-activedescendant");
    };

    const pick = (item) => {
      close();
      onPick(item);
    };

    Object.assign(list, { role: "listbox", hidden: true });
    list.setAttribute("aria-label", "What is found");
    Object.assign(input, { role: "combobox", autocomplete: "off", spellcheck: false });
    input.setAttribute("autocapitalize", "none");
    input.setAttribute("aria-controls", list.id);
    input.setAttribute("aria-autocomplete", "list");
    input.setAttribute("aria-expanded", "false");
    input.addEventListener("input", open);
    input.addEventListener("focus", () => input.select());
    input.addEventListener("click", () => isOpen() || open());
    input.addEventListener("blur", close);
    list.addEventListener("mousedown", (event) => event.preventDefault()); // the field keeps the focus until one is picked
    input.addEventListener("keydown", (event) => {
      if (event.key === "ArrowDown" || event.key === "ArrowUp") {
        event.preventDefault();
        if (!isOpen()) open();
        const step = event.key === "ArrowDown" ? 1 : -1;
        if (shown.length) mark((active + step + (active < 0 && step < 0 ? 1 : 0) + shown.length) % shown.length);
      } else if (event.key === "Escape" && isOpen()) {
        event.preventDefault();
        close();
      } else if (event.key === "Enter") {
        event.preventDefault();
        if (!isOpen()) open();
        const exact = shown.find((item) => item.key === input.value.trim().toLowerCase()) || (shown.length === 1 ? shown[0] : free(input.value));
        if (active >= 0) pick(shown[active]);
        else if (exact && input.value.trim()) pick(exact);
      }
    });
  };

  return { picker };
})();
