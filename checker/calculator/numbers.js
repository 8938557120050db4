/* Figures as Python writes them, so that both calculators say the same words; and figures as people type them. */
const Numbers = (() => {
  /* The value with so many decimals. Python rounds a tie to the even digit, JavaScript away from zero. */
  const fixed = (value, decimals) => {
    if (!Number.isFinite(value)) return value > 0 ? "inf" : value < 0 ? "-inf" : "nan";
    const longer = value.toFixed(decimals + 30), cut = longer.length - 30 - (decimals ? 0 : 1);
    const kept = longer.slice(0, cut), rest = longer.slice(cut).replace(".", "");
    const isTie = /^50*$/.test(rest), isEven = "02468".includes(kept.at(-1));
    return isTie && isEven ? kept : value.toFixed(decimals);
  };

  /* The value with six digits and no zeros at its end. */
  const general = (value) => {
    if (value === 0) return "0";
    if (!Number.isFinite(value)) return fixed(value, 0);
    const [digits, power] = value.toExponential(5).split("e");
    const exponent = Number(power), plain = (text) => (text.includes(".") ? text.replace(/\.?0+$/, "") : text);
    if (exponent >= -4 && exponent < 6) return plain(fixed(value, 5 - exponent));
    return `${plain(digits)}e${exponent < 0 ? "-" : "+"}${String(Math.abs(exponent)).padStart(2, "0")}`;
  };

  /* A figure as it is typed, with a point or a comma before its decimals; null: it is none. */
  const typed = (text) => (/^\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.trim().replace(",", ".")) : null);

  /* A cell of a table; null where it is empty. */
  const cell = (text) => (text.trim() === "" ? null : Number(text));

  /* A share in per cent, with so many decimals that it never reads as on the other side of its limit. */
  const percent = (share, limit, isOver) => {
    for (let decimals = 1; ; decimals += 1) {
      const told = fixed(100 * share, decimals);
      if (limit === null || decimals === 12 || Number(told) > 100 * limit === isOver) return told;
    }
  };

  return { cell, fixed, general, percent, typed };
})();
