// What is wrong with a page as it is laid out now: a list of sentences.
(() => {
  const faults = [];
  const short = text => text.trim().replace(/\s+/g, " ").slice(0, 40);
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide)
    faults.push(`scrolls sideways: ${document.documentElement.scrollWidth} of ${wide} px`);

  // Every line of text that is shown, as a box.
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const holder = node.parentElement;
    if (!node.data.trim() || holder.closest("title, desc, style")) continue;
    if (holder.closest("details:not([open])") && !holder.closest("summary")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const inSvg = holder.closest("svg");
    const rects = inSvg ? [holder.getBoundingClientRect()] : [...range.getClientRects()];
    for (const rect of rects) {
      if (rect.width < 1 || rect.height < 1) continue;
      boxes.push({node, holder, inSvg, text: short(node.data), left: rect.left, right: rect.right,
                  top: rect.top, bottom: rect.bottom});
    }
  }
  if (boxes.length < 40) faults.push(`only ${boxes.length} lines of text are shown`);

  for (const box of boxes) {
    const frame = box.inSvg ? box.inSvg.getBoundingClientRect() : {left: 0, right: wide};
    if (box.left < frame.left - 0.5 || box.right > frame.right + 0.5)
      faults.push(`cut: "${box.text}" from ${box.left} to ${box.right}`);
    const size = box.inSvg
        ? parseFloat(getComputedStyle(box.holder).fontSize) * box.inSvg.getBoundingClientRect().width /
              box.inSvg.viewBox.baseVal.width
        : parseFloat(getComputedStyle(box.holder).fontSize);
    if (size < 10) faults.push(`small: "${box.text}" at ${size.toFixed(1)} px`);
  }

  // Letters do not fill their line: a little of it may be shared.
  const shared = 0.2;
  boxes.sort((a, b) => a.top - b.top);
  for (let i = 0; i < boxes.length; ++i) {
    for (let j = i + 1; j < boxes.length && boxes[j].top < boxes[i].bottom; ++j) {
      const a = boxes[i], b = boxes[j];
      if (a.node === b.node) continue;
      const lines = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      const along = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      if (along > 1 && lines > shared * Math.min(a.bottom - a.top, b.bottom - b.top))
        faults.push(`overlap: "${a.text}" and "${b.text}"`);
    }
  }

  // Contrast by WCAG 2: words 4.5 to 1.
  const channels = colour => colour.match(/[\d.]+/g).map(Number);
  const luminance = ([r, g, b]) => {
    const linear = c => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  };
  const ground = luminance(channels(getComputedStyle(document.body).backgroundColor));
  for (const box of boxes) {
    const style = getComputedStyle(box.holder);
    const words = luminance(channels(box.inSvg ? style.fill : style.color));
    const ratio = (Math.max(words, ground) + 0.05) / (Math.min(words, ground) + 0.05);
    if (ratio < 4.5) faults.push(`contrast ${ratio.toFixed(1)}: "${box.text}"`);
  }
  // Lines of charts, their limits and axes: 3 to 1.
  for (const line of document.querySelectorAll("svg .line, svg .axis")) {
    const stroke = luminance(channels(getComputedStyle(line).stroke));
    const ratio = (Math.max(stroke, ground) + 0.05) / (Math.min(stroke, ground) + 0.05);
    if (ratio < 3 && !line.classList.contains("wide"))
      faults.push(`contrast ${ratio.toFixed(1)} of a line ${line.getAttribute("class")}`);
  }
  return [...new Set(faults)];
})()
