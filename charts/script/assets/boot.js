// Turns the options that stand in a page as JSON into charts. It reads data
// only: what a grower typed is shown as text, never run and never read as
// markup. Functions that an option needs stand here and are called by name.
(function () {
  "use strict";
  if (!window.echarts) {
    document.documentElement.classList.add("undrawn");
    return;
  }

  // The words of a tooltip are the names of the items under it, one a line.
  function words(params) {
    const list = Array.isArray(params) ? params : [params];
    const said = list.map((p) => p.data && p.data.name).filter(Boolean);
    return said.map((s) => echarts.format.encodeHTML(s)).join("<br>");
  }

  // A range bar: value = [place, low, high]; an upright line with feet.
  function range(params, api) {
    const low = api.coord([api.value(0), api.value(1)]);
    const high = api.coord([api.value(0), api.value(2)]);
    const foot = Math.max(3, Math.min(9, api.size([1, 0])[0] * 0.15));
    const style = { stroke: api.visual("color"), fill: "none", lineWidth: 2 };
    const line = (x1, y1, x2, y2) => ({ type: "line", z2: 10, shape: { x1, y1, x2, y2 }, style });
    return {
      type: "group",
      children: [
        line(low[0], low[1], high[0], high[1]),
        line(low[0] - foot, low[1], low[0] + foot, low[1]),
        line(high[0] - foot, high[1], high[0] + foot, high[1]),
      ],
    };
  }

  // A span in time: value = [from, at, to]; a level line with feet.
  function span(params, api) {
    const from = api.coord([api.value(0), api.value(1)]);
    const to = api.coord([api.value(2), api.value(1)]);
    const style = { stroke: api.visual("color"), fill: "none", lineWidth: 3 };
    const line = (x1, y1, x2, y2) => ({ type: "line", z2: 10, shape: { x1, y1, x2, y2 }, style });
    return {
      type: "group",
      children: [
        line(from[0], from[1], to[0], to[1]),
        line(from[0], from[1] - 6, from[0], from[1] + 6),
        line(to[0], to[1] - 6, to[0], to[1] + 6),
      ],
    };
  }

  const functions = { words, range, span };
  const places = new Set(["formatter", "renderItem"]);

  function revive(key, value) {
    if (places.has(key) && typeof value === "string" && value.startsWith("fn:")) {
      return functions[value.slice(3)];
    }
    return value;
  }

  function colour(name) {
    return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  }

  // Axes, words and grid take the colours of the page, so that light, dark
  // and paper all hold.
  function dress(option, width) {
    const ink = colour("--ink"), faint = colour("--rule"), paper = colour("--paper");
    const font = { color: ink, fontFamily: getComputedStyle(document.body).fontFamily };
    delete option.color;
    delete option.title;
    delete option.toolbox;
    option.backgroundColor = "transparent";
    option.textStyle = font;
    option.legend.textStyle = font;
    option.legend.inactiveColor = faint;
    if (width < 480) option.grid[0].top = 96; // the legend takes two or three lines
    option.tooltip = Object.assign({ confine: true }, option.tooltip, {
      backgroundColor: paper,
      borderColor: faint,
      textStyle: font,
      extraCssText: "white-space:normal;max-width:18em",
    });
    for (const s of option.series) {
      if (s.type === "line" && s.stack) s.stackStrategy = "all"; // a band may reach below nought
    }
    for (const axis of [].concat(option.xAxis || [], option.yAxis || [])) {
      axis.axisLine = { show: true, lineStyle: { color: ink } };
      axis.splitLine = { show: axis.type === "value", lineStyle: { color: faint } };
      axis.axisLabel = Object.assign({}, axis.axisLabel, { color: ink, hideOverlap: true });
      axis.nameTextStyle = { color: ink, align: "left" };
    }
    return option;
  }

  const drawn = [];

  function draw(el) {
    const text = document.getElementById(el.id + "-option").textContent;
    el.hidden = false;
    const chart = echarts.init(el, null, { renderer: "svg" });
    chart.setOption(dress(JSON.parse(text, revive), el.clientWidth));
    return chart;
  }

  function redraw() {
    for (const d of drawn) {
      d.chart.dispose();
      d.chart = draw(d.el);
    }
  }

  for (const el of document.querySelectorAll(".chart")) {
    const d = { el, chart: draw(el) };
    drawn.push(d);
    new ResizeObserver(() => d.chart.resize()).observe(el);
  }
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  matchMedia("print").addEventListener("change", redraw);
})();
