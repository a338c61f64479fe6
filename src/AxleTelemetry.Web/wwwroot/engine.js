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

// As wide as a sheet of A4 between its margins, in dots of the screen.
const sheet = 700;

/** Keeps a drawing as large as its place and in the look in force, on paper too; gives what ends that. */
export function follow(element, chart, redraw) {
  const sizes = new ResizeObserver(() => chart.resize());
  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const paper = window.matchMedia("print");
  // What is printed is drawn before the page is laid out anew.
  const print = () => { chart.resize({ width: sheet }); chart.getZr().flush(); };
  const printed = () => chart.resize({ width: "auto" });
  sizes.observe(element);
  window.addEventListener("lookchange", redraw);
  dark.addEventListener("change", redraw);
  paper.addEventListener("change", redraw);
  window.addEventListener("beforeprint", print);
  window.addEventListener("afterprint", printed);
  return () => {
    sizes.disconnect();
    window.removeEventListener("lookchange", redraw);
    dark.removeEventListener("change", redraw);
    paper.removeEventListener("change", redraw);
    window.removeEventListener("beforeprint", print);
    window.removeEventListener("afterprint", printed);
    chart.dispose();
  };
}
