/**
 * Keeps the ticks of a sheet on the device it is looked at on, counts them, tells when the last of them was made, and clears
 * them where that is asked for. Written to run in any browser of the last years, and without the characters that HTML could
 * take for the end of a script.
 */
export const tickScript = `
'use strict';
(() => {
  const boxes = [...document.querySelectorAll('input[data-tick]')];
  const told = document.getElementById('ticks');
  const clear = document.getElementById('clear-ticks');
  const key = 'bandwright ' + document.documentElement.dataset.page;
  let kept = true;
  let lastTick = null;
  const read = () => {
    try { return JSON.parse(localStorage.getItem(key) || '{}'); } catch { kept = false; return {}; }
  };
  const tell = () => {
    const done = boxes.filter((box) => box.checked).length;
    const when = done === 0 || lastTick === null ? '' : ', the last ' + new Date(lastTick).toLocaleString();
    told.textContent = done + ' of ' + boxes.length + ' ticked' + when + (kept ? '; kept on this device' : '; not kept: this browser stores nothing here');
    clear.hidden = done === 0;
  };
  const keep = () => {
    const ticked = boxes.filter((box) => box.checked).map((box) => box.dataset.tick);
    try { localStorage.setItem(key, JSON.stringify({ ticked, lastTick })); } catch { kept = false; }
    tell();
  };
  const found = read() || {};
  const ticked = Array.isArray(found.ticked) ? found.ticked : [];
  if (typeof found.lastTick === 'number') lastTick = found.lastTick;
  for (const box of boxes) {
    box.checked = ticked.includes(box.dataset.tick);
    box.addEventListener('change', () => { if (box.checked) lastTick = Date.now(); keep(); });
  }
  clear.addEventListener('click', () => {
    if (!confirm('Clear all ticks of this sheet?')) return;
    for (const box of boxes) box.checked = false;
    lastTick = null;
    keep();
    boxes[0].focus();
  });
  tell();
})();
`;
