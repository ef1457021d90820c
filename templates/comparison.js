// Lets a reader sort, filter and compare the options, and read values off the charts.
// Figures come from the JSON of the page in full; nothing is fetched, and paper never shows what is made here.
(() => {
  "use strict";
  const at = (id) => document.getElementById(id);
  const data = JSON.parse(at("page-data").textContent);
  const { options, words } = data;
  const columnOf = new Map(data.columns.map((column) => [column.key, column]));
  const SVG = "http://www.w3.org/2000/svg";
  const CARBON = "carbon";
  const SHOWN = ["total_inc_tax", CARBON, "d_kgco2e", "stored_kgco2", "mass_kg", "wastage_share", "mean_u",
    "heat_loss_w_per_k"];
  const FABRIC = "fabric";
  const state = { basis: "total", scope: "upfront_kgco2e", reference: 0, sort: null, descending: false,
    bars: CARBON, picked: new Set(data.picked) };

  const fill = (node, attributes, children) => {
    for (const [name, value] of Object.entries(attributes)) {
      if (value !== null && value !== false) node.setAttribute(name, value === true ? "" : value);
    }
    node.append(...children);
    return node;
  };
  const make = (name, attributes = {}, ...children) => fill(document.createElement(name), attributes, children);
  const draw = (name, attributes = {}, ...children) =>
    fill(document.createElementNS(SVG, name), attributes, children);

  // Numbers as the rest of the report prints them: exact halves go to the even digit.
  const digits = (value, places) => {
    const size = Math.abs(value);
    const text = size.toFixed(places);
    const tail = size.toFixed(60).split(".")[1].slice(places);
    const isUp = /^50*$/.test(tail) && Number(text.slice(-1)) % 2 === 1;
    return isUp ? (Number(text) - 10 ** -places).toFixed(places) : text;
  };
  const number = (value, places) => {
    const text = digits(value, places);
    const [whole, part] = text.split(".");
    const grouped = whole.replace(/\B(?=(\d{3})+$)/g, words.gap) + (part ? `.${part}` : "");
    return (value < 0 && /[1-9]/.test(text) ? words.minus : "") + grouped;
  };
  const change = (value, places) => {
    const text = number(value, places);
    return !/[1-9]/.test(text) || text.startsWith(words.minus) ? text : `+${text}`;
  };

  const column = (key) => columnOf.get(key === CARBON ? state.scope : key);
  const isPerArea = (shown) => state.basis !== "total" && "unit_m2" in shown;
  const unitOf = (shown) => (isPerArea(shown) ? shown.unit_m2 : shown.unit);
  const placesOf = (shown) => (isPerArea(shown) ? shown.places_m2 : shown.places);
  const valueOf = (option, shown) => {
    const value = option.figures[shown.key];
    return value === null || !isPerArea(shown) ? value : value / option.areas[state.basis];
  };
  const figure = (value, shown) => {
    if (value === null) return words.not_assessed;
    return shown.share ? number(value * 100, 1) : number(value, placesOf(shown));
  };
  const difference = (option, shown) => {
    const value = valueOf(option, shown);
    const other = valueOf(options[state.reference], shown);
    if (value === null || other === null) return "";
    return shown.share ? change((value - other) * 100, 1) : change(value - other, placesOf(shown));
  };
  // Ranges are drawn for whole houses: for one m2 they hold where both have the same floor.
  const verdict = (place, shown) => {
    const found = data.verdicts[shown.key];
    if (!found || place === state.reference) return "";
    const areas = [place, state.reference].map((each) => options[each].areas[state.basis]);
    const isSameFloor = state.basis === "total" || Math.abs(areas[0] - areas[1]) < 1e-9 * areas[1];
    return isSameFloor ? found[place][state.reference] : "";
  };
  const fabricWords = (option) => (option.short.length ? `short: ${option.short.join(", ")}` : "as good");

  // The tooltips of the charts: words of a mark on hover, focus and tap; arrow keys go from mark to mark.
  const tip = at("tip");
  let told = null;
  const place = () => {
    const mark = told.getBoundingClientRect();
    const { width, height } = tip.getBoundingClientRect();
    const left = Math.max(8, Math.min(mark.left + mark.width / 2 - width / 2, innerWidth - width - 8));
    const above = mark.top - height - 8;
    tip.style.left = `${left}px`;
    tip.style.top = `${above > 8 ? above : Math.min(mark.bottom + 8, innerHeight - height - 8)}px`;
  };
  const tell = (mark) => {
    told = mark;
    tip.hidden = !mark;
    if (!mark) return;
    tip.textContent = mark.dataset.tip;
    place();
  };
  const markOf = (event) => (event.target instanceof Element ? event.target.closest("[data-tip]") : null);
  const focused = () => document.activeElement?.closest("[data-tip]") ?? null;
  const readable = (svg) => {
    const titles = [...svg.querySelectorAll("g > title")];
    if (!titles.length) return;
    titles.forEach((title, index) => {
      const mark = title.parentNode;
      mark.dataset.tip = title.textContent;
      fill(mark, { role: "img", "aria-label": title.textContent.replaceAll("\n", "; "),
        tabindex: index ? "-1" : "0" }, []);
      title.remove();
    });
    // a picture has no parts that can be reached, a group has
    const name = svg.querySelector(":scope > title");
    const described = svg.querySelector(":scope > desc");
    svg.removeAttribute("aria-labelledby");
    fill(svg, { role: "group", "aria-label": name ? name.textContent : svg.getAttribute("aria-label") }, []);
    if (described) svg.setAttribute("aria-describedby", described.id);
    name?.remove();
  };
  document.addEventListener("pointerover", (event) => tell(markOf(event) ?? focused()));
  document.addEventListener("pointerdown", (event) => tell(markOf(event)));
  document.addEventListener("focusin", (event) => tell(markOf(event)));
  document.addEventListener("focusout", () => tell(null));
  document.addEventListener("scroll", () => told && place(), { capture: true, passive: true });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") tell(null);
    const mark = markOf(event);
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!mark) return;
    const marks = [...mark.closest("svg").querySelectorAll("[data-tip]")];
    const next = { Home: marks[0], End: marks[marks.length - 1] }[event.key]
      ?? (step ? marks[marks.indexOf(mark) + step] : null);
    if (step || next) event.preventDefault();
    if (!next) return;
    mark.setAttribute("tabindex", "-1");
    next.setAttribute("tabindex", "0");
    next.focus();
  });
  document.querySelectorAll("main svg").forEach(readable);
  document.querySelector(".contents details").open = innerWidth > 704;
  if (options.length < 2) return;

  // The table: its rows are made once and only moved, so that the focus stays where it is.
  const table = at("explore-table");
  const titleOf = (key) => (key === FABRIC ? "Fabric" : key === "option" ? "Option" : column(key).title);
  const heads = ["option", ...SHOWN, FABRIC].map((key) => {
    const button = make("button", { type: "button" });
    const unit = make("span", { class: "unit" });
    const head = make("th", { scope: "col", class: SHOWN.includes(key) ? "figure" : null }, button,
      make("br"), unit);
    button.addEventListener("click", () => {
      state.descending = state.sort === key && !state.descending;
      state.sort = key;
      show();
    });
    return { key, head, button, unit };
  });
  table.tHead.rows[0].append(...heads.map((each) => each.head));
  const second = (text, className) => make("span", { class: className }, text);
  const rows = options.map((option, index) => {
    const tick = make("input", { type: "checkbox" });
    tick.checked = state.picked.has(index);
    tick.addEventListener("change", () => {
      state.picked[tick.checked ? "add" : "delete"](index);
      show();
    });
    const name = make("th", { scope: "row" }, make("label", {}, tick, make("span", {}, option.name)));
    if (option.is_base) name.append(second("base", "second"));
    const cells = SHOWN.map(() => make("td", { class: "figure" }));
    return { index, option, cells,
      row: make("tr", {}, name, ...cells, make("td", {}, fabricWords(option))) };
  });
  const inCell = (cell, option, index, shown) => {
    const lines = [figure(valueOf(option, shown), shown)];
    if (index !== state.reference) lines.push(difference(option, shown), verdict(index, shown));
    const parts = lines.map((line, at_) => (at_ ? second(line, "second") : line)).filter((_, i) => lines[i]);
    cell.replaceChildren(...parts.flatMap((part, i) => (i ? [make("br"), part] : [part])));
  };

  const isShown = ({ option, index }) => {
    const text = `${option.name} ${option.description} ${option.changed}`.toLowerCase();
    const costs = at("cost-verdict").value;
    const carbons = at("carbon-verdict").value;
    return at("find").value.toLowerCase().split(/\s+/).every((word) => text.includes(word))
      && (!at("as-good").checked || !option.short.length)
      && (!costs || verdict(index, column("total_inc_tax")) === costs)
      && (!carbons || verdict(index, column(CARBON)) === carbons);
  };
  const sorted = () => {
    const { sort, descending } = state;
    if (!sort) return rows;
    const keyOf = ({ option }) => {
      if (sort === "option") return option.name.toLowerCase();
      return sort === FABRIC ? fabricWords(option) : valueOf(option, column(sort));
    };
    const order = descending ? -1 : 1;
    return [...rows].sort((a, b) => {
      const [x, y] = [keyOf(a), keyOf(b)];
      if (x === null || y === null) return (x === null) - (y === null);
      return x === y ? 0 : x < y ? -order : order;
    });
  };

  const besides = () => {
    const places = [state.reference, ...[...state.picked].filter((i) => i !== state.reference).sort((a, b) => a - b)];
    const beside = at("side-by-side");
    beside.tHead.rows[0].replaceChildren(make("th", { scope: "col" }, "Figure"), ...places.map((index) => {
      const mark = index === state.reference ? "differences are from this" : options[index].is_base ? "base" : "";
      return make("th", { scope: "col", class: index === state.reference ? "figure reference" : "figure" },
        options[index].name, make("br"), make("span", { class: "unit" }, mark));
    }));
    const body = data.columns.map((shown) => make("tr", { class: shown.key === state.scope ? "leading" : null },
      make("th", { scope: "row" }, shown.title, " ", make("span", { class: "unit" }, unitOf(shown))),
      ...places.map((index) => {
        const cell = make("td", { class: index === state.reference ? "figure reference" : "figure" });
        inCell(cell, options[index], index, shown);
        return cell;
      })));
    body.push(make("tr", {}, make("th", { scope: "row" }, "Fabric"), ...places.map((index) =>
      make("td", { class: index === state.reference ? "figure reference" : "figure" }, fabricWords(options[index])))));
    beside.tBodies[0].replaceChildren(...body);
    at("beside-note").textContent = places.length > 1 ? "" : "Tick options in the table to set them beside it.";
  };

  // Bars of what is shown in the table, in its order; names stand above the bars where there is little room.
  const bars = (shownRows) => {
    const shown = column(state.bars);
    const holder = at("bars");
    const width = holder.clientWidth || 320;
    const values = shownRows.map(({ option }) => valueOf(option, shown));
    const texts = values.map((value) => figure(value, shown));
    const longest = Math.max(0, ...shownRows.map(({ option }) => option.name.length)) * 7;
    const isNarrow = longest > width * 0.4;
    const labels = Math.max(0, ...texts.map((text) => text.length)) * 7.6 + 8;
    const known = values.filter((value) => value !== null);
    const baseValue = valueOf(options[0], shown);
    const low = Math.min(0, baseValue ?? 0, ...known);
    const high = Math.max(0, baseValue ?? 0, ...known) || (low ? 0 : 1);
    const left = (isNarrow ? 1 : longest + 14) + (low < 0 ? labels : 0);
    const right = width - (high > 0 ? labels : 8);
    const x = (value) => left + ((value - low) / (high - low)) * (right - left);
    const [bar, pitch, above] = isNarrow ? [14, 42, 19] : [16, 29, 0];
    const foot = 6 + shownRows.length * pitch;
    const unit = unitOf(shown);
    const marks = shownRows.map(({ option, index }, row) => {
      const top = 6 + row * pitch + above;
      const value = values[row];
      const end = x(value ?? 0);
      const isLeft = value < 0;
      const delta = index === state.reference ? "" : difference(option, shown);
      const more = [delta && `${delta} ${unit} against ${options[state.reference].name}`, verdict(index, shown)];
      const name = { class: "name", fill: option.is_base ? "#b3123f" : "#1d232b",
        "font-weight": option.is_base ? 600 : null };
      return draw("g", { "data-option": index },
        draw("title", {}, [option.name, `${texts[row]} ${value === null ? "" : unit}`, more.filter(Boolean).join(", ")]
          .filter(Boolean).join("\n")),
        draw("rect", { x: 0, y: top - above - 4, width, height: pitch, fill: "none", "pointer-events": "all" }),
        draw("rect", { x: Math.min(x(0), end), y: top, width: Math.abs(end - x(0)), height: bar,
          fill: option.is_base ? "#b3123f" : "#b4b8bc" }),
        draw("text", isNarrow ? { x: 1, y: top - 5, ...name }
          : { x: longest + 6, y: top + bar - 3.5, "text-anchor": "end", ...name },
        option.name + (option.is_base ? " (base)" : "")),
        draw("text", { class: "value", x: end + (isLeft ? -5 : 5), y: top + bar - 3.5,
          "text-anchor": isLeft ? "end" : null, fill: name.fill, "font-weight": 600 }, texts[row]));
    });
    const ruled = (at_, attributes) => draw("line", { x1: at_, x2: at_, y1: 2, y2: foot, ...attributes });
    const svg = draw("svg", { viewBox: `0 0 ${width} ${foot + 18}`,
      "aria-label": `${shown.title}, ${unit}, as bars` },
    ...(baseValue === null ? [] : [ruled(x(baseValue), { stroke: "#b3123f", "stroke-dasharray": "2 3" })]),
    ...marks, ruled(x(0), { id: "bars-zero", stroke: "#1d232b" }),
    draw("text", { x: x(0), y: foot + 14, fill: "#5b646e", "text-anchor": left > 20 ? "middle" : "start" }, "0"));
    holder.replaceChildren(make("p", { class: "note" }, `${shown.title}, ${unit}. Dotted: the base.`), svg);
    readable(svg);
  };

  const show = () => {
    const { key: sortedBy, button: sortButton } = heads.find(({ key }) => key === state.sort) ?? {};
    for (const { key, head, button, unit } of heads) {
      button.textContent = titleOf(key);
      unit.textContent = SHOWN.includes(key) ? unitOf(column(key)) : "";
      if (key === sortedBy) head.setAttribute("aria-sort", state.descending ? "descending" : "ascending");
      else head.removeAttribute("aria-sort");
    }
    const isDrawn = state.scope in data.verdicts;
    at("carbon-verdict").disabled = !isDrawn;
    if (!isDrawn) at("carbon-verdict").value = "";
    document.querySelectorAll(".against").forEach((node) => {
      node.textContent = state.reference ? options[state.reference].name : "the base";
    });
    for (const { row, option, index, cells } of rows) {
      row.className = index === state.reference ? "reference" : "";
      cells.forEach((cell, number_) => inCell(cell, option, index, column(SHOWN[number_])));
    }
    const order = sorted();
    const body = table.tBodies[0];
    if (order.some(({ row }, index) => body.rows[index] !== row)) body.append(...order.map(({ row }) => row));
    for (const each of rows) each.row.hidden = !isShown(each);
    const shownRows = order.filter(({ row }) => !row.hidden);
    const way = state.sort === "option" || state.sort === FABRIC
      ? (state.descending ? "z to a" : "a to z") : (state.descending ? "highest first" : "lowest first");
    at("shown").textContent = `${shownRows.length} of ${options.length} options, `
      + (state.sort ? `by ${sortButton.textContent}, ${way}.` : "in the order of the report.");
    at("explore-note").textContent = "Below each figure its difference from "
      + `${options[state.reference].name}; lower or higher where nine draws in ten agree`
      + (isDrawn ? "" : ", which are not made for A1-A3 alone")
      + (state.basis === "total" ? "" : ", told for one m² where the floor is the same")
      + ". Wastage differs in percentage points. Wastage, U and heat loss are of the whole house. D and stored "
      + "carbon stand apart and are never added.";
    besides();
    bars(shownRows);
  };

  const choices = (id, entries, value, chosen) => {
    at(id).append(...entries.map(([key, text]) => make("option", { value: key }, text)));
    at(id).value = value;
    at(id).addEventListener("change", () => {
      if (chosen) chosen(at(id).value);
      show();
    });
  };
  const named = (list) => list.map(({ key, words: text }) => [key, text]);
  const findings = ["lower", "higher", "too close to call", "the same"].map((text) => [text, text]);
  choices("basis", named(data.bases), state.basis, (value) => { state.basis = value; });
  choices("scope", named(data.scopes), state.scope, (value) => { state.scope = value; });
  choices("reference", options.map(({ name }, index) => [index, name]), 0,
    (value) => { state.reference = Number(value); });
  choices("bars-of", SHOWN.map((key) => [key, key === CARBON ? "Carbon, as chosen above" : titleOf(key)]), CARBON,
    (value) => { state.bars = value; });
  choices("cost-verdict", [["", "any"], ...findings], "");
  choices("carbon-verdict", [["", "any"], ...findings], "");
  at("find").addEventListener("input", show);
  at("as-good").addEventListener("change", show);
  at("reset").addEventListener("click", () => {
    for (const id of ["find", "cost-verdict", "carbon-verdict"]) at(id).value = "";
    at("as-good").checked = false;
    state.sort = null;
    show();
  });
  at("explore").hidden = false;
  document.querySelectorAll(".contents li[hidden]").forEach((entry) => { entry.hidden = false; });
  show();
  new ResizeObserver(() => bars(sorted().filter(({ row }) => !row.hidden))).observe(at("explore"));
})();
