// Draws Chamber's charts with Apache ECharts, which this server ships as a file. No code is made from text.
const engine = "./_content/Vizor.ECharts/js/vizor-echarts-bundle-min.js";
let loading;

function load() {
  loading ??= new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = engine;
    script.onload = () => done(window.echarts);
    script.onerror = failed;
    document.head.append(script);
  });
  return loading;
}

function colors() {
  const style = getComputedStyle(document.documentElement);
  const read = name => style.getPropertyValue(name).trim();
  return { font: getComputedStyle(document.body).fontFamily, ink: read("--ink"), quiet: read("--quiet"), rule: read("--rule"), band: read("--band"), window: read("--window"), surface: read("--surface"), clay: read("--clay"), moss: read("--moss") };
}

function markArea(model, tone) {
  const bands = model.bands.map(band => [
    { yAxis: band.low, name: band.name, itemStyle: { color: tone.band }, label: { position: "insideTopLeft" } }, { yAxis: band.high }]);
  const windows = model.marks.filter(mark => mark.to > mark.from).map(mark => [
    { xAxis: mark.from, name: mark.name, itemStyle: { color: tone.window }, label: { position: "insideBottom" } }, { xAxis: mark.to }]);
  return { silent: true, label: { color: tone.quiet }, data: [...bands, ...windows] };
}

// A thermostat that cycles by half a degree must look steady, so the axis spans ten degrees at least.
const spanMin = 10;
const low = value => Math.floor(Math.min(value.min, (value.min + value.max - spanMin) / 2));
const high = value => Math.ceil(Math.max(value.max, (value.min + value.max + spanMin) / 2));

const rowHeight = 15;

// The strip below a chart, by which it is drawn closer: the maker's colours are a blue that the page has nowhere else.
function slider(tone) {
  const shadow = opacity => ({ lineStyle: { color: tone.quiet, width: 1 }, areaStyle: { color: tone.quiet, opacity } });
  return { id: "strip", type: "slider", height: 22, bottom: 6, borderColor: tone.rule, textStyle: { color: tone.quiet }, backgroundColor: "transparent", fillerColor: tone.window,
    dataBackground: shadow(.15), selectedDataBackground: shadow(.3), handleStyle: { color: tone.surface, borderColor: tone.quiet },
    moveHandleStyle: { color: tone.quiet, opacity: .5 }, emphasis: { handleStyle: { color: tone.surface, borderColor: tone.clay }, moveHandleStyle: { color: tone.clay } } };
}

// A reading with none beside it is no line: it is drawn as a point.
const isAlone = (point, index, points) => point[1] != null && points[index - 1]?.[1] == null && points[index + 1]?.[1] == null;

// A chart of one moment has no width to be scaled by: it is given an hour on either side.
const hour = 3600000;
function span(model) {
  const times = [...model.lines.flatMap(line => line.points.map(point => point[0])), ...model.marks.flatMap(mark => [mark.from, mark.to])];
  const [first, last] = times.reduce(([a, b], time) => [Math.min(a, time), Math.max(b, time)], [Infinity, -Infinity]);
  return times.length > 0 && last - first < hour ? { min: first - hour, max: last + hour } : {};
}

// Drawing closer: with Ctrl and the wheel, two fingers, or the strip below. Only a mouse draws the chart along: a finger on it scrolls the
// page. There is nothing to draw closer in a single moment.
const along = byMouse => ({ id: "along", type: "inside", zoomOnMouseWheel: "ctrl", moveOnMouseWheel: false, moveOnMouseMove: byMouse, preventDefaultMouseMove: byMouse });
const zoom = (model, tone, byMouse) => span(model).min === undefined ? [along(byMouse), slider(tone)] : [];

function option(model, width, byMouse) {
  const tone = colors();
  const words = model.marks.some(mark => mark.to === mark.from);
  const series = model.lines.map((line, index) => ({
    name: line.name, type: "line", data: line.points, showSymbol: false, connectNulls: false, sampling: "minmax", animation: false,
    lineStyle: { color: tone[line.color], width: 2, type: line.dashed ? "dashed" : "solid" }, itemStyle: { color: tone[line.color] },
    ...(index === 0 && {
      markArea: markArea(model, tone),
      markLine: { silent: true, symbol: "none", label: { color: tone.quiet, formatter: "{b}" }, lineStyle: { color: tone.quiet, type: "dotted" }, data: [] }
    })
  }));
  for (const line of model.lines) {
    const alone = line.points.filter(isAlone);
    if (alone.length > 0) series.push({ name: line.name, type: "scatter", data: alone, symbolSize: 7, silent: true, animation: false, itemStyle: { color: tone[line.color] }, tooltip: { show: false } });
  }
  return {
    aria: { enabled: false }, textStyle: { color: tone.ink, fontFamily: tone.font },
    // Above the grid stand, from the bottom: the words of the marks in their rows, the unit, the legend where there is one.
    grid: { left: 8, right: 18, top: (model.lines.length > 1 ? 44 : 8) + (words ? 60 : 30), bottom: 44, containLabel: true },
    legend: { show: model.lines.length > 1, top: 0, left: 0, textStyle: { color: tone.ink }, icon: "roundRect" },
    tooltip: { trigger: "axis", confine: true, backgroundColor: tone.surface, borderColor: tone.rule, textStyle: { color: tone.ink },
      valueFormatter: value => value == null ? "no reading" : `${value.toFixed(1)} ${model.unit}` },
    xAxis: { type: "time", ...span(model), axisLabel: { color: tone.quiet, hideOverlap: true, fontSize: 12, margin: 10, formatter: { year: "{primary|{yyyy}}", month: "{primary|{MMM}}", day: "{primary|{d} {MMM}}", hour: "{HH}:{mm}", minute: "{HH}:{mm}" }, rich: { primary: { fontSize: 12, fontWeight: "bold" } } }, splitNumber: Math.max(2, Math.floor(width / 90)), axisLine: { lineStyle: { color: tone.rule } } },
    yAxis: { type: "value", scale: true, min: low, max: high, name: model.unit, nameGap: words ? 2 * rowHeight + 8 : 12, nameTextStyle: { color: tone.quiet, align: "left" }, axisLabel: { color: tone.quiet, showMinLabel: false, showMaxLabel: false }, splitLine: { lineStyle: { color: tone.rule } } },
    dataZoom: zoom(model, tone, byMouse),
    series
  };
}

// The words of marks stand in two rows, and where both are full only the line stays: what is said last counts most, so it is placed first.
const letterWidth = 7;

function placeWords(chart, model) {
  const marks = model.marks.filter(mark => mark.to === mark.from).toSorted((a, b) => b.from - a.from);
  const freeTo = [Infinity, Infinity];
  const data = marks.map(mark => {
    const half = (mark.name.length + 1) * letterWidth / 2;
    const at = chart.convertToPixel({ xAxisIndex: 0 }, mark.from);
    const row = freeTo.findIndex(left => at + half <= left);
    if (row >= 0) freeTo[row] = at - half;
    return { xAxis: mark.from, name: mark.name, label: row < 0 ? { show: false } : { distance: 5 + row * rowHeight } };
  });
  chart.setOption({ series: [{ markLine: { data } }] });
}

export async function draw(place, model) {
  const echarts = await load();
  const chart = echarts.getInstanceByDom(place) ?? echarts.init(place, null, { renderer: "svg" });
  place.redraw = () => {
    chart.setOption(option(model, place.clientWidth, place.byMouse ?? true), { notMerge: false, replaceMerge: ["series", "dataZoom"] });
    place.arrange();
  };
  place.arrange = () => placeWords(chart, model);
  place.redraw();
  if (!place.watcher) {
    place.watcher = new ResizeObserver(() => {
      chart.resize();
      place.redraw();
    });
    place.watcher.observe(place);
    place.recolor = () => place.redraw();
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", place.recolor);
    chart.on("datazoom", () => place.arrange());
    place.addEventListener("pointerdown", event => {
      place.byMouse = event.pointerType === "mouse";
      const [inside] = chart.getOption().dataZoom;
      if (inside && inside.moveOnMouseMove !== place.byMouse) chart.setOption({ dataZoom: [along(place.byMouse)] });
    }, true);
  }
}

export function clear(place) {
  if (!place) return;
  place.watcher?.disconnect();
  matchMedia("(prefers-color-scheme: dark)").removeEventListener("change", place.recolor);
  window.echarts?.getInstanceByDom(place)?.dispose();
}
