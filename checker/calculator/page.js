/* The form and the answer beside it. */
(() => {
  const { cableNote, element, figures, verdictBox, worked, WORDS, MEANS } = Told;
  const one = (id) => document.getElementById(id);
  const FIELDS = ["code", "carrier", "kind", "width", "height", "bore", "length", "bends", "occupied", "limit", "most"];
  const BY_OPTION = {
    "--code": "code", "--carrier": "carrier", "--inside": "width", "--bore": "bore", "--length": "length", "--bends": "bends",
    "--occupied": "occupied", "--space-factor": "limit", "--most": "most",
  };
  let state = State.begun(), lastAddress = null;

  const itemOf = (key, note) => ({ key, note, words: `${key} ${note}`.toLowerCase() });
  const cableItems = [...Data.cables.values()].map((cable) => itemOf(cable.key, cableNote(cable)));
  const carrierItems = [...Data.carriers.values()].map((it) => itemOf(it.key, `${it.kind}: ${it.name}`));
  const ofSize = (text) => {
    const name = State.cableNamed(text);
    return name && !Data.cables.has(name) ? { key: name, note: "a cable of this size" } : null;
  };

  const rows = Rows.rows(one("cables"), () => state.cables, { onChange: () => changed(), onEmptied: () => one("add").focus() });

  const add = (item) => {
    one("add").value = "";
    rows.add(item.key);
  };

  /* ---- fields that depend on others ---- */

  const showFields = () => {
    const kind = State.kindOf(state), found = Data.carrierNamed(state.carrier);
    document.querySelectorAll("[data-by]").forEach((part) => { part.hidden = part.dataset.by !== state.by; });
    one("run").hidden = kind !== "conduit";
    one("carrier-note").textContent = found ? `${found.name}, ${found.kind}. Size: ${found.source}` : "";
    const code = Data.codes.find((it) => it.key === state.code);
    one("code-title").textContent = code ? code.title : "";
    one("code-note").textContent = code ? code.note : "";
    one("code-about").hidden = !code || !code.note;
    one("limit").disabled = !State.isUsed("limit", state);
    one("limit-note").textContent = one("limit").disabled ? `Not for ${kind} under ${state.code}: its rule doesn't go by one share for all.`
      : "Stricter than the code's, or where it has none.";
  };

  const showErrors = (errors) => {
    for (const told of document.querySelectorAll(".error")) {
      const id = told.id.replace(/-error$/, ""), field = one(id);
      told.textContent = errors[id] || "";
      if (errors[id]) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  };

  /* ---- the answer ---- */

  const wrongOr = (error) => {
    if (error instanceof Fit.Wrong) return error;
    throw error;
  };

  /* The field of what is asked wrongly; of several cables the first that is. */
  const fieldOf = (wrong, asked) => {
    if (BY_OPTION[wrong.where]) return BY_OPTION[wrong.where];
    const isWrong = (text) => {
      try {
        Fit.cableOf(text);
        return false;
      } catch (error) {
        return Boolean(wrongOr(error));
      }
    };
    return `cable-${asked.cables.findIndex(isWrong)}`;
  };

  const answered = () => {
    const { asked, errors } = State.asQuestion(state);
    // what is still being typed there is neither wrong nor left behind
    if (document.activeElement === one("most")) delete errors.most;
    if (one("add").value.trim() && document.activeElement !== one("add")) {
      errors.add = "Not added yet: choose one of what is found, or press Enter";
    }
    if (Object.keys(errors).length) return { errors };
    if (!asked.cables.length && !asked.most) return { errors, missing: "Add a cable, or ask how many of one go in." };
    try {
      const isBesides = asked.cables.length > 0 && Boolean(asked.most);
      const found = Fit.answer(isBesides ? { ...asked, most: "" } : asked);
      return { errors, asked, found, more: isBesides ? Fit.answer(asked) : null };
    } catch (error) {
      return { errors: { [fieldOf(wrongOr(error), asked)]: `${error.what}: ${error.hint}` } };
    }
  };

  const isUntouched = () => !FIELDS.some((name) => !["code", "kind"].includes(name) && state[name]) && !state.cables.length;

  const show = () => {
    const { errors, missing, asked, found, more } = answered();
    // an empty form isn't full of mistakes
    const told = isUntouched() ? {} : Object.fromEntries(Object.entries(errors)
      .filter(([name]) => state[name] !== "" || name === "code" || name.startsWith("cable-")));
    showErrors(told);
    let word = "none", means = "", reason = missing || "";
    if (found) {
      word = found.verdict.outcome;
      means = MEANS[word];
      if (!asked.cables.length && found.most) means = `${found.most} of ${asked.most} go in.`;
      if (!asked.cables.length && found.most === 0) means = `Not even one of ${asked.most} goes in.`;
      reason = found.verdict.reason;
    } else if (!missing) {
      reason = Object.keys(told).length ? "Nothing is judged until what is marked is put right." : "Choose a code, a carrier and cables.";
    }
    const head = [word, means, reason, asked && asked.code].join("|");
    if (one("verdict").dataset.told !== head) { // said again only where it changed
      Object.assign(one("verdict").dataset, { told: head, word });
      one("verdict").replaceChildren(...verdictBox(word, means, reason, found ? asked.code : ""));
    }
    one("worked").replaceChildren(...(found ? worked(found, asked, more) : []));
    const short = found ? figures(found.verdict) : { fill: "", limit: "" };
    one("brief").dataset.word = word;
    one("brief").replaceChildren(one("verdict").querySelector("svg").cloneNode(true), element("b", {}, WORDS[word]),
      short.fill ? element("span", {}, `${short.fill}${short.limit && `, limit ${short.limit}`}`) : "", element("span", { class: "go" }, "Answer ↓"));
  };

  const changed = () => {
    try {
      showFields();
      show();
    } catch (error) { // an earlier answer must not stay as if it were this one's
      one("verdict").replaceChildren(...verdictBox("none", "", "A defect of this page stopped it: ask wayroom fit instead.", ""));
      one("worked").replaceChildren();
      one("brief").replaceChildren(WORDS.none);
      throw error;
    }
    lastAddress = `#${State.asAddress(state)}`;
    if (location.hash !== lastAddress) history.replaceState(null, "", lastAddress);
  };

  /* ---- from the address, and to it ---- */

  const read = () => {
    const { state: found, strange } = State.ofAddress(location.hash);
    state = found;
    for (const name of FIELDS) one(name).value = state[name];
    document.querySelector(`[name=by][value=${state.by}]`).checked = true;
    one("notice").hidden = !strange.length;
    one("notice").textContent = strange.length
      ? `The address of this page says what it doesn't know, so the question isn't the one that was shared: ${strange.join(", ")}` : "";
    rows.show();
    changed();
  };

  const begin = () => {
    const strangers = Fit.strangers();
    if (strangers.length || !Data.known.length) {
      one("broken").textContent = "This browser works out other answers than Wayroom did when it wrote this page, so none are given here. "
        + `Ask wayroom fit instead. It differs on ${strangers.length} of ${Data.known.length} questions.`;
      return;
    }
    one("repeated").textContent = `${Data.known.length} answers of wayroom fit were repeated here when the page opened, and came out alike.`;
    const options = Data.codes.map((code) => element("option", { value: code.key }, code.key));
    one("code").append(...(options.length > 1 ? [element("option", { value: "" }, "choose…")] : []), ...options);
    for (const name of FIELDS) {
      for (const event of ["input", "change"]) { // not every way of choosing tells of both
        one(name).addEventListener(event, () => {
          if (state[name] === one(name).value) return;
          state[name] = one(name).value;
          changed();
        });
      }
    }
    document.querySelectorAll("[name=by]").forEach((radio) => radio.addEventListener("change", () => {
      state.by = radio.value;
      changed();
    }));
    const into = (name) => ({ key }) => {
      one(name).value = key;
      state[name] = key;
      changed();
    };
    Picker.picker(one("carrier"), one("carrier-found"), carrierItems, { onPick: into("carrier") });
    Picker.picker(one("most"), one("most-found"), cableItems, { free: ofSize, onPick: into("most") });
    Picker.picker(one("add"), one("add-found"), cableItems, { free: ofSize, onPick: add });
    for (const name of ["add", "most"]) for (const event of ["focus", "blur"]) one(name).addEventListener(event, show);
    one("question").addEventListener("submit", (event) => event.preventDefault());
    one("clear").addEventListener("click", () => {
      state = State.begun();
      history.replaceState(null, "", "#");
      read();
      one("code").focus();
    });
    one("brief").addEventListener("click", () => {
      one("answer").focus();
      one("answer").scrollIntoView();
    });
    window.addEventListener("hashchange", () => location.hash !== lastAddress && read());
    one("broken").hidden = true;
    one("all").hidden = false;
    one("brief").hidden = false;
    read();
  };

  begin();
})();
