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
  const names = ["ink", "quiet", "rule", "band", "window", "surface", "clay", "moss"];
  return { font: getComputedStyle(document.body).fontFamily, ...Object.fromEntries(names.map(name => [name, read(`--${name}`)])) };
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
  return {
    id: "strip", type: "slider", height: 22, bottom: 6, filterMode: "none", borderColor: tone.rule, textStyle: { color: tone.quiet },
    backgroundColor: "transparent", fillerColor: tone.window, dataBackground: shadow(.15), selectedDataBackground: shadow(.3),
    handleStyle: { color: tone.surface, borderColor: tone.quiet }, moveHandleStyle: { color: tone.quiet, opacity: .5 },
    emphasis: { handleStyle: { color: tone.surface, borderColor: tone.clay }, moveHandleStyle: { color: tone.clay } },
    labelFormatter: value => said(value).replace(",", "\n")
  };
}

// A reading with none beside it is no line: it is drawn as a point.
const isAlone = (point, index, points) => point[1] != null && points[index - 1]?.[1] == null && points[index + 1]?.[1] == null;

// A chart of one moment has no width to be scaled by: it is given an hour on either side.
const hour = 3600000;
function span(model) {
  const times = [...[...model.lines, ...model.ranges].flatMap(one => one.points.map(point => point[0])),
    ...model.marks.flatMap(mark => [mark.from, mark.to])];
  const [first, last] = times.reduce(([a, b], time) => [Math.min(a, time), Math.max(b, time)], [Infinity, -Infinity]);
  return times.length > 0 && last - first < hour ? { min: first - hour, max: last + hour } : {};
}

// Drawing closer: with Ctrl and the wheel, two fingers, or the strip below. Only a mouse draws the chart along: a finger on it scrolls the
// page. There is nothing to draw closer in a single moment.
const along = byMouse => ({
  id: "along", type: "inside", filterMode: "none", zoomOnMouseWheel: "ctrl", moveOnMouseWheel: false, moveOnMouseMove: byMouse,
  preventDefaultMouseMove: byMouse
});
const zoom = (model, tone, byMouse) => span(model).min === undefined ? [along(byMouse), slider(tone)] : [];

const said = (time, withHour = true) => new Date(time).toLocaleString("en-GB", {
  weekday: "short", day: "numeric", month: "short", ...(withHour && { hour: "2-digit", minute: "2-digit" }) });

// What lies between a lowest and a highest is one area, cut where nothing is known. It is drawn with the first of its points: none of them
// is ever left out, since drawing closer filters nothing.
function area(range, tone) {
  const runs = range.points.reduce((all, point) => {
    if (point[1] == null) return [...all, []];
    all.at(-1).push(point);
    return all;
  }, [[]]).filter(run => run.length > 0);
  const half = 43200000;
  const wide = run => run.length > 1 ? run : [[run[0][0] - half, ...run[0].slice(1)], [run[0][0] + half, ...run[0].slice(1)]];
  return {
    name: range.name, type: "custom", data: range.points, encode: { x: 0, y: [1, 2] }, clip: true, silent: true, animation: false, z: 1,
    itemStyle: { color: tone[range.color] },
    renderItem: (params, api) => params.dataIndex !== 0 ? undefined : {
      type: "group", children: runs.map(wide).map(run => ({
        type: "polygon", style: { fill: tone[range.color], opacity: .35 },
        shape: { points: [...run.map(([x, y]) => api.coord([x, y])), ...run.toReversed().map(([x, , y]) => api.coord([x, y]))] }
      }))
    }
  };
}

// A tooltip in words: when, and of each line its value with its unit.
function tooltip(model, shown) {
  const value = number => number == null ? "no reading" : model.areDays ? said(number, false) : `${number.toFixed(1)} ${model.unit}`;
  const box = document.createElement("div"), head = document.createElement("strong");
  head.textContent = said(shown[0].axisValue);
  box.append(head);
  for (const { seriesName, value: point, marker } of shown) {
    const row = document.createElement("div");
    row.innerHTML = marker;
    row.append(`${seriesName}: `, point.length > 2 && point[1] != null ? `${value(point[1])} to ${value(point[2])}` : value(point[1]));
    box.append(row);
  }
  return box;
}

function axes(model, tone, width, words) {
  const days = {
    year: "{primary|{yyyy}}", month: "{primary|{MMM}}", day: "{primary|{d} {MMM}}", hour: "{HH}:{mm}", minute: "{HH}:{mm}"
  };
  const rich = { primary: { fontSize: 12, fontWeight: "bold" } };
  return {
    xAxis: {
      type: "time", ...span(model), splitNumber: Math.max(2, Math.floor(width / 90)), axisLine: { lineStyle: { color: tone.rule } },
      axisLabel: { color: tone.quiet, hideOverlap: true, fontSize: 12, margin: 10, formatter: days, rich }
    },
    yAxis: {
      ...(model.areDays ? { type: "time", minInterval: 86400000 } : { type: "value", scale: true, min: low, max: high }),
      name: model.unit, nameGap: words ? 2 * rowHeight + 8 : 12, nameTextStyle: { color: tone.quiet, align: "left" },
      axisLabel: { color: tone.quiet, showMinLabel: false, showMaxLabel: false, ...(model.areDays && { formatter: "{d} {MMM}" }) },
      splitLine: { lineStyle: { color: tone.rule } }
    }
  };
}

function lines(model, tone) {
  const drawn = model.lines.map(line => ({
    name: line.name, type: "line", data: line.points, showSymbol: false, connectNulls: false, sampling: "minmax", animation: false, z: 3,
    lineStyle: { color: tone[line.color], width: 2, type: line.dashed ? "dashed" : "solid" }, itemStyle: { color: tone[line.color] }
  }));
  for (const line of model.lines) {
    const alone = line.points.filter(isAlone);
    const point = { type: "scatter", symbolSize: 7, silent: true, animation: false, tooltip: { show: false } };
    if (alone.length > 0) drawn.push({ ...point, name: line.name, data: alone, itemStyle: { color: tone[line.color] } });
  }
  return drawn;
}

// Marks and bands belong to a separate series, so that they work with any chart.
function marks(model, tone) {
  const markLine = {
    silent: true, symbol: "none", label: { color: tone.quiet, formatter: "{b}" }, lineStyle: { color: tone.quiet, type: "dotted" }, data: []
  };
  return {
    id: "marks", type: "line", data: [], silent: true, animation: false, tooltip: { show: false }, markArea: markArea(model, tone), markLine
  };
}

function option(model, width, byMouse) {
  const tone = colors();
  const words = model.marks.some(mark => mark.to === mark.from);
  const names = [...model.ranges, ...model.lines].map(one => one.name);
  return {
    aria: { enabled: false }, textStyle: { color: tone.ink, fontFamily: tone.font },
    // Above the grid stand, from the bottom: the words of the marks in their rows, the unit, the legend where there is one.
    grid: { left: 8, right: 18, top: (names.length > 1 ? 44 : 8) + (words ? 60 : 30), bottom: 44, containLabel: true },
    legend: { show: names.length > 1, top: 0, left: 0, data: names, itemWidth: 28, textStyle: { color: tone.ink, fontSize: 13 } },
    tooltip: {
      trigger: "axis", confine: true, backgroundColor: tone.surface, borderColor: tone.rule, textStyle: { color: tone.ink },
      formatter: shown => tooltip(model, shown)
    },
    ...axes(model, tone, width, words),
    dataZoom: zoom(model, tone, byMouse),
    series: [marks(model, tone), ...model.ranges.map(range => area(range, tone)), ...lines(model, tone)]
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
  chart.setOption({ series: [{ id: "marks", markLine: { data } }] });
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
