"use strict";
(function () {
  var words = JSON.parse(document.getElementById("words").textContent);
  var root = document.documentElement;
  var figures = null;
  var drawn = new Map();

  function start() {
    var place = document.querySelector(".controls");
    if (place) {
      place.append(button(words.print, function () { print(false); }));
      place.append(" ", button(words.print_all, function () { print(true); }));
    }
    document.querySelectorAll(".scroll").forEach(settle);
    window.addEventListener("afterprint", function () { root.classList.remove("all"); });
    if (window.DecompressionStream) {
      document.querySelector(".no-script").hidden = true;
      document.querySelectorAll("figure[data-figure]").forEach(offer);
    }
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
    window.addEventListener("beforeprint", function () {
      drawn.forEach(function (parts) { parts.close(); });
    });
  }

  // Without the class the style sheet prints the short form.
  function print(all) {
    root.classList.toggle("all", all);
    window.print();
  }

  // A table that fits is no place to stop at; one that scrolls is reached by keyboard and named.
  function settle(box) {
    var name = box.getAttribute("aria-label");
    new ResizeObserver(fit).observe(box);
    fit();

    function fit() {
      var scrolls = box.scrollWidth > box.clientWidth;
      var held = { tabindex: "0", role: "region", "aria-label": name };
      Object.keys(held).forEach(function (key) {
        if (scrolls) { box.setAttribute(key, held[key]); } else { box.removeAttribute(key); }
      });
    }
  }

  function button(text, act) {
    var made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  function offer(figure) {
    var still = figure.querySelector("svg.plot");
    if (!still) { return; }
    var title = figure.querySelector("h3").textContent;
    var stage = document.createElement("div");
    stage.className = "stage";
    stage.hidden = true;
    var toggle = button(words.zoom, function () {
      if (stage.hidden) { open(); } else { close(); }
    });
    toggle.className = "closer";
    toggle.setAttribute("aria-expanded", "false");
    toggle.setAttribute("aria-label", words.zoom + ": " + title);
    still.after(stage, toggle);

    function open() {
      stage.hidden = false;
      still.classList.add("away");
      say(words.zoom_close, "true");
      draw(stage, figure.dataset.figure);
      drawn.set(stage, { key: figure.dataset.figure, close: close });
    }
    function close() {
      if (window.Plotly) { window.Plotly.purge(stage); }
      stage.hidden = true;
      still.classList.remove("away");
      say(words.zoom, "false");
      drawn.delete(stage);
    }
    function say(text, expanded) {
      toggle.textContent = text;
      toggle.setAttribute("aria-expanded", expanded);
      toggle.setAttribute("aria-label", text + ": " + title);
    }
  }

  // The drawing library lies packed in the page; it is only unpacked when someone
  // wants a closer look.
  async function engine() {
    if (!window.Plotly) {
      var packed = Uint8Array.from(
        atob(document.getElementById("engine").textContent),
        function (letter) { return letter.charCodeAt(0); }
      );
      var stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
      var script = document.createElement("script");
      script.textContent = await new Response(stream).text();
      document.head.append(script);
    }
    return window.Plotly;
  }

  async function draw(stage, key) {
    var library = await engine();
    if (stage.hidden) { return; }
    if (!figures) { figures = JSON.parse(document.getElementById("figure-data").textContent); }
    var figure = inColour(figures[key], getComputedStyle(document.documentElement));
    figure.layout.autosize = true;
    await library.react(stage, figure.data, figure.layout, {
      responsive: true,
      displaylogo: false,
      showSendToCloud: false,
      showEditInChartStudio: false,
      plotlyServerURL: "",
      modeBarButtonsToRemove: ["sendDataToCloud", "select2d", "lasso2d"]
    });
  }

  function redraw() {
    drawn.forEach(function (parts, stage) { draw(stage, parts.key); });
  }

  // "var(--name)" becomes the colour that the present theme gives it.
  function inColour(tree, style) {
    if (typeof tree === "string") {
      var match = /^var\((--[a-z_]+)\)$/.exec(tree);
      return match ? style.getPropertyValue(match[1]).trim() : tree;
    }
    if (Array.isArray(tree)) { return tree.map(function (v) { return inColour(v, style); }); }
    if (tree && typeof tree === "object") {
      var copy = {};
      Object.keys(tree).forEach(function (k) { copy[k] = inColour(tree[k], style); });
      return copy;
    }
    return tree;
  }

  start();
})();
