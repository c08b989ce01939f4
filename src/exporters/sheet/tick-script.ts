/**
 * Keeps the ticks of a sheet on the device it is looked at on, and counts them. Written to run in any browser of the last
 * years, and without the characters that HTML could take for the end of a script.
 */
export const tickScript = `
'use strict';
(() => {
  const boxes = [...document.querySelectorAll('input[data-tick]')];
  const told = document.getElementById('ticks');
  const key = 'bandwright ' + document.documentElement.dataset.page;
  let kept = true;
  const read = () => {
    try { return JSON.parse(localStorage.getItem(key) || '[]'); } catch { kept = false; return []; }
  };
  const tell = () => {
    const done = boxes.filter((box) => box.checked).length;
    told.textContent = done + ' of ' + boxes.length + ' ticked' + (kept ? '; kept on this device' : '; not kept: this browser stores nothing here');
  };
  const keep = () => {
    try { localStorage.setItem(key, JSON.stringify(boxes.filter((box) => box.checked).map((box) => box.dataset.tick))); } catch { kept = false; }
    tell();
  };
  const ticked = read();
  for (const box of boxes) {
    box.checked = Array.isArray(ticked) && ticked.includes(box.dataset.tick);
    box.addEventListener('change', keep);
  }
  tell();
})();
`;
