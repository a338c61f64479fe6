// The load in the diagram is dragged: places in the picture's own measure are told, one at a time, the last one always.
export function drag(element, page) {
  const svg = element.querySelector("svg");
  let [held, busy, waiting] = [false, false, null];

  const place = e => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [p.x, p.y];
  };
  async function tell(to) {
    waiting = to;
    if (busy) return;
    busy = true;
    while (waiting) {
      const next = waiting;
      waiting = null;
      await page.invokeMethodAsync("Dragged", ...next);
    }
    busy = false;
    if (!held) page.invokeMethodAsync("Dropped");
  }
  const down = e => { held = true; svg.setPointerCapture(e.pointerId); tell(place(e)); e.preventDefault(); };
  const move = e => { if (held) tell(place(e)); };
  const up = () => {
    if (!held) return;
    held = false;
    if (!busy) page.invokeMethodAsync("Dropped");
  };
  svg.addEventListener("pointerdown", down);
  svg.addEventListener("pointermove", move);
  svg.addEventListener("pointerup", up);
  svg.addEventListener("pointercancel", up);
  return {
    dispose() {
      svg.removeEventListener("pointerdown", down);
      svg.removeEventListener("pointermove", move);
      svg.removeEventListener("pointerup", up);
      svg.removeEventListener("pointercancel", up);
    },
  };
}
