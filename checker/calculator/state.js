/* What was typed, as texts; to and from the address, and as a question. What can't be read stays as it was typed, and is told. */
const State = (() => {
  const { typed } = Numbers;
  const EMPTY = {
    code: "", by: "list", carrier: "", kind: "trunking", width: "", height: "", bore: "", length: "", bends: "", cables: [], occupied: "",
    limit: "", most: "",
  };
  const TEXTS = ["code", "carrier", "kind", "width", "height", "bore", "length", "bends", "occupied", "limit", "most"];
  const USED = { list: ["carrier"], inside: ["kind", "width", "height"], bore: ["bore"] };
  const OWN = Object.values(USED).flat();

  const begun = () => ({ ...EMPTY, cables: [], code: Data.codes.length === 1 ? Data.codes[0].key : "" });

  /* The kind of carrier that is asked about; "" where that isn't known yet. */
  const kindOf = (state) => {
    if (state.by === "inside") return state.kind;
    if (state.by === "bore") return "conduit";
    const found = Data.carrierNamed(state.carrier);
    return found ? found.kind : "";
  };

  /* Whether a limit of one's own has a place there. */
  const takesLimit = (state) => {
    const code = Data.codes.find((it) => it.key === state.code), kind = kindOf(state);
    return !code || !kind || code.rules.some((rule) => rule.kinds.includes(kind) && "space_factor" in rule.limits);
  };

  const isUsed = (name, state) => {
    if (OWN.includes(name)) return USED[state.by].includes(name);
    if (name === "length" || name === "bends") return ["conduit", ""].includes(kindOf(state));
    return name !== "limit" || takesLimit(state);
  };

  /* Behind the # of the address. */
  const asAddress = (state) => {
    const pairs = TEXTS.filter((name) => state[name] && isUsed(name, state)).map((name) => [name, state[name]]);
    return new URLSearchParams([...pairs, ...state.cables.map(({ key, count }) => ["cable", `${count}*${key}`])]).toString();
  };

  /* The state of an address, and what in it isn't known here. */
  const ofAddress = (address) => {
    const state = begun(), strange = [];
    for (const [name, text] of new URLSearchParams(address.replace(/^#/, ""))) {
      const cut = text.indexOf("*");
      if (name === "cable" && cut >= 0) state.cables.push({ key: text.slice(cut + 1), count: text.slice(0, cut) });
      else if (TEXTS.includes(name)) state[name] = text;
      else strange.push(`${name}=${text}`);
    }
    const named = [state.carrier && "carrier", (state.width || state.height) && "width", state.bore && "bore"].filter(Boolean);
    if (named.length > 1) strange.push(`${named.join(" and ")} together`);
    state.by = state.bore ? "bore" : state.width || state.height ? "inside" : "list";
    if (state.code && !Data.codes.some((code) => code.key === state.code)) {
      strange.push(`code=${state.code}`);
      state.code = "";
    }
    if (!["trunking", "tray", "ladder"].includes(state.kind)) {
      strange.push(`kind=${state.kind}`);
      state.width = "";
      state.kind = "trunking";
    }
    return { state, strange };
  };

  /* A cable as it is named in questions: its key, or its size with a point and mm; null: it is neither. */
  const cableNamed = (text) => {
    const bare = text.trim().toLowerCase();
    if (Data.cables.has(bare)) return bare;
    const sides = bare.replace(/\s*mm$/, "").split(/\s*[x×*]\s*/).map(typed);
    if (sides.length > 2 || sides.some((side) => side === null || side === 0)) return null;
    return `${sides.join("x")}mm`;
  };

  /* The question, and what is wrong with what was typed, by field. */
  const asQuestion = (state) => {
    const errors = {}, asked = { code: state.code, cables: [] };
    const number = (name, text) => {
      const value = typed(text);
      if (value === null) errors[name] = text.trim() ? `“${text.trim()}” is no number. Write it as 12.5 or 12,5` : "Write a number";
      return value;
    };
    if (!state.code) errors.code = "Choose one: the code is never guessed";
    if (state.by === "list") {
      asked.carrier = state.carrier.trim();
      if (!asked.carrier) errors.carrier = "Choose one of the list";
    } else if (state.by === "inside") {
      asked.kind = state.kind;
      asked.inside = `${number("width", state.width)}x${number("height", state.height)}`;
    } else {
      asked.bore = String(number("bore", state.bore));
    }
    for (const name of ["length", "bends"]) {
      if (isUsed(name, state) && state[name].trim()) asked[`${name}${name === "length" ? "_m" : ""}`] = number(name, state[name]);
    }
    const percent = (name) => {
      if (!state[name].trim() || !isUsed(name, state)) return "";
      const value = number(name, state[name].trim().replace(/\s*%$/, ""));
      if (value !== null && value > 0 && value < 1) {
        errors[name] = `Write it in per cent: ${Numbers.general(100 * value)}, if that is what you mean, not ${state[name].trim()}`;
      }
      return `${value}%`;
    };
    asked.occupied = percent("occupied");
    asked.space_factor = percent("limit");
    state.cables.forEach(({ key, count }, place) => {
      const name = cableNamed(key);
      if (!name) errors[`cable-${place}`] = `There is no cable “${key}” in this page. Take it out, or give its size`;
      else asked.cables.push(`${name}=${count.trim()}`);
    });
    if (state.most.trim()) {
      asked.most = cableNamed(state.most) || "";
      if (!asked.most) errors.most = `There is no cable “${state.most.trim()}” in this page. Choose one of the list, or give its size`;
    }
    return { asked, errors };
  };

  return { asAddress, asQuestion, begun, cableNamed, isUsed, kindOf, ofAddress };
})();
