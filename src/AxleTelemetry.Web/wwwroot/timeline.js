// Loads over time in five rows that share their axis: gross, axles, each with the limit of the time, what is to spare to limits of several axles, speed, and what was found, how the lifts stood and whose limits held.
import { engine, follow, look } from "./engine.js";

const left = 52, right = 14, rowHeight = 18, below = 552;
const clock = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "medium" });

export async function draw(element, address, page, words) {
  return new Timeline(element, await engine(address), page, words);
}

class Timeline {
  #data = null;

  constructor(element, echarts, page, words) {
    this.element = element;
    this.words = words;
    this.echarts = echarts;
    this.chart = echarts.init(element, null, { renderer: "canvas" });
    this.end = follow(element, this.chart, () => this.#draw());
    this.chart.getZr().on("click", e => {
      if (!this.#data || !this.chart.containPixel({ gridIndex: [0, 1, 2, 3, 4] }, [e.offsetX, e.offsetY])) return;
      page.invokeMethodAsync("Chose", Math.round(this.chart.convertFromPixel({ xAxisIndex: 0 }, e.offsetX)));
    });
  }

  show(data) {
    this.#data = data;
    this.rows = [...new Set(data.episodes.map(e => e[2]))];
    this.element.style.height = `${below + 58 + (this.rows.length + 2) * rowHeight}px`;
    this.chart.resize();
    this.#draw();
    this.element.dataset.ready = "true";
  }

  dispose() { this.end(); }

  #draw() {
    if (!this.#data) return;
    const { from, to, gross, axles, spare, speed, lifts, laws, episodes } = this.#data;
    const colour = look();
    const text = { color: colour("quiet"), fontSize: 11, fontFamily: getComputedStyle(document.body).fontFamily };
    this.font = `11px ${text.fontFamily}`;
    const names = [this.words.columnLifts, this.words.lawBand, ...this.rows];
    const bands = names.length * rowHeight;
    const axis = (index, shown) => ({
      type: "time", gridIndex: index, min: from, max: to, axisLabel: { show: shown, ...text, hideOverlap: true }, axisTick: { show: shown }, axisLine: { lineStyle: { color: colour("rule") } },
      splitLine: { show: true, lineStyle: { color: colour("rule"), type: "dotted" } }, axisPointer: { show: true, label: { show: false }, lineStyle: { color: colour("ink"), type: "solid" } },
    });
    const tonnes = (index, name) => ({
      type: "value", gridIndex: index, scale: true, name, nameGap: 12, nameTextStyle: { ...text, align: "right" }, axisLabel: text, splitNumber: index === 0 ? 2 : 4,
      splitLine: { lineStyle: { color: colour("rule") } },
    });
    const line = (name, points, index, tone) => ({
      type: "line", name, xAxisIndex: index, yAxisIndex: index, data: points, showSymbol: false, connectNulls: false, animation: false, sampling: undefined,
      lineStyle: { width: 1.5, color: tone }, itemStyle: { color: tone }, emphasis: { disabled: true },
    });
    // A limit holds until the next one: a step. Its row in the tip stands beside its load.
    const limit = (points, index, tone) => ({ ...line("", points, index, tone), step: "end", silent: true, lineStyle: { color: tone, type: [2, 3], width: 1, opacity: 0.85 }, tooltip: { show: false }, z: 1 });
    const tone = i => colour(`series-${i % 6 + 1}`);
    const dash = i => ["solid", "dashed"][Math.floor(i / 6)];
    this.chart.setOption({
      animation: false, textStyle: text,
      legend: { top: 4, left: 0, itemWidth: 14, itemHeight: 3, icon: "rect", textStyle: { ...text, color: colour("ink") }, data: axles.map(a => a.name), type: "scroll" },
      grid: [
        { left, right, top: 52, height: 76 },
        { left, right, top: 156, height: 190 },
        { left, right, top: 382, height: 52 },
        { left, right, top: 472, height: 52 },
        { left, right, top: below, height: bands },
      ],
      axisPointer: { link: [{ xAxisIndex: "all" }] },
      tooltip: {
        trigger: "axis", confine: true, backgroundColor: colour("paper"), borderColor: colour("ink"), borderWidth: 1, padding: [4, 8], extraCssText: "box-shadow:none;border-radius:0",
        textStyle: { color: colour("ink"), fontSize: 12 }, formatter: parts => this.#told(parts),
      },
      xAxis: [axis(0, false), axis(1, false), axis(2, false), axis(3, false), axis(4, true)],
      yAxis: [
        tonnes(0, `${this.words.gross}, t`), tonnes(1, "t"),
        { ...tonnes(2, this.words.spareAxis), nameTextStyle: { ...text, align: "left", padding: [0, 0, 0, -left + 6] }, splitNumber: 2, min: v => Math.min(Math.floor(v.min), 0), max: v => Math.max(Math.ceil(v.max), 1) },
        { ...tonnes(3, this.words.speedAxis), scale: false, min: 0, max: v => Math.max(100, Math.ceil(v.max / 50) * 50), interval: 50 },
        { type: "category", gridIndex: 4, data: names, inverse: true, axisTick: { show: false }, axisLine: { show: false }, axisLabel: { show: false }, splitLine: { show: true, lineStyle: { color: colour("rule") } } },
      ],
      dataZoom: [
        { type: "inside", xAxisIndex: [0, 1, 2, 3, 4], zoomOnMouseWheel: "ctrl", moveOnMouseMove: "shift", moveOnMouseWheel: false },
        { type: "slider", show: !matchMedia("print").matches, xAxisIndex: [0, 1, 2, 3, 4], bottom: 4, height: 18, left, right, borderColor: colour("rule"), fillerColor: colour("likely-tint"), textStyle: text, brushSelect: false, showDataShadow: false, handleStyle: { color: colour("paper"), borderColor: colour("ink") }, moveHandleStyle: { color: colour("rule") } },
      ],
      series: [
        line(this.words.gross, gross.points, 0, colour("ink")),
        limit(gross.limits, 0, colour("ink")),
        ...axles.map((a, i) => ({ ...line(a.name, a.points, 1, tone(i)), lineStyle: { width: 1.5, color: tone(i), type: dash(i) } })),
        ...axles.map((a, i) => limit(a.limits, 1, tone(i))),
        { ...line(this.words.spareAxis, spare, 2, colour("ink")), markLine: { silent: true, symbol: "none", animation: false, label: { show: false }, lineStyle: { color: colour("ink"), type: [2, 3], width: 1, opacity: 0.85 }, data: [{ yAxis: 0 }] } },
        { ...line(this.words.speedAxis, speed, 3, colour("quiet")), lineStyle: { width: 1, color: colour("quiet") } },
        this.#bands(laws.map(([a, b, words]) => [a, b, 1, words, "quiet"]), colour),
        this.#bands(lifts.map(([a, b, words]) => [a, b, 0, words, "quiet"]), colour),
        this.#bands(episodes.map(([a, b, what, kind]) => [a, b, names.indexOf(what), what, kind]), colour, true),
      ],
    }, { notMerge: true });
  }

  /** Stretches of time as bars, with their words in them where there is room; in a row that is all of one thing else once beside its first. */
  #bands(data, colour, isOfOne) {
    const first = new Set(isOfOne ? this.rows.map(name => data.findIndex(d => d[3] === name)) : []);
    return {
      type: "custom", xAxisIndex: 4, yAxisIndex: 4, data, encode: { x: [0, 1], y: 2 }, tooltip: { show: false }, clip: true,
      renderItem: (params, api) => {
        const [x1, y] = api.coord([api.value(0), api.value(2)]);
        const x2 = api.coord([api.value(1), api.value(2)])[0];
        const { x, width } = params.coordSys;
        const [a, b] = [Math.max(x1, x), Math.min(Math.max(x2, x1 + 2), x + width)];
        if (b <= a) return null;
        const [, , , words, kind] = data[params.dataIndex];
        const needed = this.echarts.format.getTextRect(words, this.font).width + 8;
        const isBeside = first.has(params.dataIndex) && b - a < needed && (a - x >= needed || x + width - b >= needed);
        const at = !isBeside ? a + 4 : a - x >= needed ? a - needed + 4 : b + 4;
        return {
          type: "group", children: [
            { type: "rect", shape: { x: a, y: y - rowHeight / 2 + 2, width: b - a, height: rowHeight - 4 }, style: { fill: kind === "quiet" ? colour("sheet") : colour(kind), stroke: kind === "quiet" ? colour("quiet") : colour(kind), lineWidth: 1 } },
            { type: "text", style: { text: words, x: at, y, verticalAlign: "middle", fill: kind === "quiet" || isBeside ? colour("ink") : colour("paper"), font: this.font, ...(isBeside ? {} : { width: Math.max(0, b - a - 6), overflow: "truncate" }) }, invisible: !isBeside && b - a < 40 },
          ],
        };
      },
    };
  }

  /** The limit that held at a moment. */
  #limit(steps, at) {
    const held = steps.findLast(s => s[0] <= at);
    return held && held[1] !== null ? `, ${this.words.limitWord} ${held[1].toFixed(1)} t` : "";
  }

  #told(parts) {
    const box = document.createElement("div");
    const known = parts.filter(p => p.seriesName && p.value?.[1] !== null && p.value?.[1] !== undefined && p.seriesType === "line");
    const loads = new Map([[this.words.gross, this.#data.gross], ...this.#data.axles.map(a => [a.name, a])]);
    const head = document.createElement("b");
    head.textContent = clock.format(parts[0]?.axisValue);
    box.append(head);
    const seen = new Set();
    for (const p of known) {
      if (seen.has(p.seriesName)) continue;
      seen.add(p.seriesName);
      const row = document.createElement("div");
      const load = loads.get(p.seriesName);
      if (p.seriesName === this.words.spareAxis) {
        row.textContent = `${p.value[3]}: ${Math.abs(p.value[1]).toFixed(1)} ± ${p.value[2].toFixed(1)} t ${p.value[1] < 0 ? this.words.over : this.words.spare}`;
        box.append(row);
        continue;
      }
      row.textContent = load ? `${p.seriesName}: ${p.value[1].toFixed(1)} ± ${p.value[2].toFixed(1)} t${this.#limit(load.limits, p.value[0])}` : `${p.seriesName}: ${p.value[1].toFixed(0)}`;
      box.append(row);
    }
    return box;
  }
}
