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

  const MOST_DIGITS = 12;

  /* Figures with one decimal, or with so many that they read as they are. */
  const withDigits = (figures, isSo) => {
    for (let decimals = 1; ; decimals += 1) {
      const told = figures.map((figure) => fixed(figure, decimals));
      if (decimals === MOST_DIGITS || isSo(told.map(Number))) return told;
    }
  };

  /* A share in per cent that never reads as on the other side of its limit, which is told with six digits. */
  const percent = (share, limit, isOver) => {
    const bound = limit === null ? null : Number(general(100 * limit));
    return withDigits([100 * share], ([told]) => bound === null || told > bound === isOver)[0];
  };

  /* A value and its limit; neither reads as on the other's other side. */
  const apart = (value, limit, isOver) => withDigits([value, limit], ([one, other]) => one > other === isOver);

  return { apart, cell, fixed, general, percent, typed, withDigits };
})();
