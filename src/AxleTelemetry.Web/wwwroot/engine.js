// The drawing engine is loaded once, when a page first needs it. It sets window.echarts.
let loading;

export function engine(address) {
  loading ??= new Promise((loaded, failed) => {
    const script = document.createElement("script");
    script.src = address;
    script.onload = () => loaded(window.echarts);
    script.onerror = () => { loading = undefined; failed(new Error("The drawing engine cannot be loaded.")); };
    document.head.append(script);
  });
  return loading;
}

/** Colours and type of the look in force. */
export function look() {
  const style = getComputedStyle(document.documentElement);
  return name => style.getPropertyValue(`--${name}`).trim();
}

/** Keeps a drawing as large as its place and in the look in force; gives what ends that. */
export function follow(element, chart, redraw) {
  const sizes = new ResizeObserver(() => chart.resize());
  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  sizes.observe(element);
  window.addEventListener("lookchange", redraw);
  dark.addEventListener("change", redraw);
  return () => {
    sizes.disconnect();
    window.removeEventListener("lookchange", redraw);
    dark.removeEventListener("change", redraw);
    chart.dispose();
  };
}
