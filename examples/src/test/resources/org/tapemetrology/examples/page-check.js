/* SPDX-License-Identifier: Apache-2.0 */
// Looks at a page as it is laid out: as it comes, and with everything opened that can be opened.
(function () {
  const findings = new Set();
  // Boxes of letters reach into each other by parts of a pixel at ordinary line spacing.
  const TOUCH = 1.5;
  const width = document.documentElement.clientWidth;

  function name(text) {
    return '"' + text.trim().replace(/\s+/g, ' ').slice(0, 60) + '"';
  }

  function luminance(c) {
    const part = c.map(v => v / 255).map(v => v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4));
    return 0.2126 * part[0] + 0.7152 * part[1] + 0.0722 * part[2];
  }

  function rgb(text) {
    const numbers = text.match(/[\d.]+/g);
    return numbers ? numbers.map(Number) : [0, 0, 0, 0];
  }

  function background(element) {
    for (let e = element; e; e = e.parentElement) {
      const c = rgb(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] === 1) {
        return c.slice(0, 3);
      }
    }
    return [255, 255, 255];
  }

  // Hidden from sight on purpose, for those who hear the page.
  function isForEarsOnly(element) {
    for (let e = element; e; e = e.parentElement) {
      const style = getComputedStyle(e);
      if (style.clipPath === 'inset(50%)' || style.visibility === 'hidden') {
        return true;
      }
      if (e.classList.contains('skip')) {
        return true;
      }
    }
    return false;
  }

  function look(phase) {
    const boxes = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    let texts = 0;
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!node.nodeValue.trim() || parent.closest('script, style, title, desc') || isForEarsOnly(parent)) {
        continue;
      }
      const drawing = parent.closest('svg');
      const range = document.createRange();
      range.selectNodeContents(node);
      const rects = Array.from(drawing ? [parent.getBoundingClientRect()] : range.getClientRects())
        .filter(r => r.width > 0 && r.height > 0);
      if (rects.length === 0) {
        continue;
      }
      if (parent.checkVisibility && !parent.checkVisibility({contentVisibilityAuto: true})) {
        continue;
      }
      texts++;
      const style = getComputedStyle(parent);
      const ink = luminance(rgb(drawing ? style.fill : style.color));
      const paper = luminance(background(parent));
      const ratio = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
      if (ratio < 4.5) {
        findings.add('contrast: ' + ratio.toFixed(2) + ' of ' + name(node.nodeValue) + phase);
      }
      for (const r of rects) {
        if (r.left < -0.5 || r.right > width + 0.5) {
          findings.add('overflow: ' + name(node.nodeValue) + ' from ' + r.left.toFixed(0) + ' to ' + r.right.toFixed(0) + phase);
        }
        if (drawing) {
          const d = drawing.getBoundingClientRect();
          if (r.left < d.left - 1 || r.right > d.right + 1 || r.top < d.top - 1 || r.bottom > d.bottom + 1) {
            findings.add('drawing: ' + name(node.nodeValue) + ' leaves it' + phase);
          }
        } else {
          for (let e = parent; e; e = e.parentElement) {
            const b = e.getBoundingClientRect();
            if (getComputedStyle(e).overflowX !== 'visible' && e !== document.body
                && e !== document.documentElement && (r.right > b.right + 1 || r.left < b.left - 1)) {
              findings.add('cut: ' + name(node.nodeValue) + phase);
            }
          }
        }
        boxes.push({node: node, text: node.nodeValue, r: r});
      }
    }
    // What is written before an element by the style sheet has no node; its room is that of the grid cell before the text.
    document.querySelectorAll('td').forEach(cell => {
      if (cell.scrollWidth > cell.clientWidth + 1) {
        findings.add('overflow: inside the cell ' + name(cell.textContent) + phase);
      }
    });
    if (document.documentElement.scrollWidth > width) {
      findings.add('overflow: the page is ' + document.documentElement.scrollWidth + ' wide' + phase);
    }
    boxes.sort((a, b) => a.r.top - b.r.top);
    for (let i = 0; i < boxes.length; i++) {
      const a = boxes[i];
      for (let j = i + 1; j < boxes.length && boxes[j].r.top < a.r.bottom - TOUCH; j++) {
        const b = boxes[j];
        const across = Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left);
        const down = Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top);
        if (a.node !== b.node && across > TOUCH && down > TOUCH) {
          findings.add('overlap: ' + name(a.text) + ' and ' + name(b.text) + phase);
        }
      }
    }
    return texts;
  }

  look('');
  document.querySelectorAll('details').forEach(d => { d.open = true; });
  const texts = look(', opened');
  const lines = ['width ' + window.innerWidth, 'texts ' + texts,
    'drawings ' + document.querySelectorAll('svg[role=img]').length].concat(Array.from(findings));
  parent.document.getElementById('findings-of-' + window.frameElement.id).textContent = lines.join('\n');
})();
