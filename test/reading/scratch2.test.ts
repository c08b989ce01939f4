import { it } from 'vitest';
import { readDocument } from '../../src/reading/read.js';

const M = 8 * 1024 * 1024 - 2000;
const rig = (x: string) => `{"format":"bandwright-rig/1","title":"x",${x}}`;
const xr = (x: string) => `<rig format="bandwright-rig/1" title="x">${x}</rig>`;
const cases: Record<string, string> = {
  lt: '<'.repeat(M),
  '<a <a': '<a '.repeat(M / 3),
  brackets: '{"a":' + '['.repeat(M),
  'unterminated+brackets': '{"\n' + '['.repeat(M),
  obj: '{"a":'.repeat(M / 5),
  quotes: '{' + '"'.repeat(M),
  mixed: '{"a":' + '[}'.repeat(M / 2),
  'mixes numbers': rig(`"mixes":[${'1,'.repeat(299000)}1]`),
  'too many': rig(`"mixes":[${'1,'.repeat(M / 2 - 50)}1]`),
  leaveOut: rig(`"leaveOut":[${Array.from({ length: 290000 }, (_, i) => `"${i}"`).join(',')}]`),
  freeSlots: rig(
    `"mixes":[{"name":"x","freeSlots":[${Array.from({ length: 290000 }, (_, i) => `"${i}"`).join(',')}]}]`,
  ),
  'dup keys': rig(Array.from({ length: 290000 }, () => `"a":1`).join(',')),
  'unknown keys': rig(Array.from({ length: 290000 }, (_, i) => `"a${i}":1`).join(',')),
  'big string': rig(`"mixes":"${'a'.repeat(M - 100)}"`),
  'big key': rig(`"${'a'.repeat(M - 100)}":1`),
  'big number': rig(`"mixes":${'9'.repeat(M - 100)}`),
  'big frac': rig(`"mixes":0.${'9'.repeat(M - 100)}`),
  spaces: ' '.repeat(M) + 'x',
  newlines: rig('\n'.repeat(M - 100)),
  'x attrs': `<rig ${Array.from({ length: 299000 }, (_, i) => `a${i}="1"`).join(' ')}/>`,
  'x attrs dup': `<rig ${'a="1" '.repeat(M / 7)}/>`,
  'x attr value': `<rig title="${'a'.repeat(M)}"/>`,
  'x attr newlines': `<rig title="${'\n'.repeat(M)}"/>`,
  'x refs': `<rig title="${'&#65;'.repeat(M / 5)}"/>`,
  'x amp': `<rig title="${'&'.repeat(M)}"/>`,
  'x elements': xr(`<mixes>${'<item/>'.repeat(290000)}</mixes>`),
  'x unknown': xr('<a/>'.repeat(290000)),
  'x unknown2': xr(Array.from({ length: 290000 }, (_, i) => `<a${i}/>`).join('')),
  'x many': xr('<a/>'.repeat(2000000)),
  'x deep': '<a>'.repeat(M / 3),
  'x text': xr('a'.repeat(M - 100)),
  'x comments': xr('<!---->'.repeat(M / 7 - 10)),
  'x comment': xr('<!--' + '-'.repeat(M - 100)),
  'x comment2': xr('<!--' + ' -'.repeat(M / 2 - 100)),
  'x cdata': xr('<![CDATA['.repeat(M / 9 - 10)),
  'x entries': xr(
    `<systems>${Array.from({ length: 140000 }, (_, i) => `<entry key="a${i}"/>`).join('')}</systems>`,
  ),
  'x ws tag': `<rig ${' '.repeat(M)}`,
  'x ws tag2': `<rig a${' '.repeat(M)}`,
  'x name': `<${'a'.repeat(M)}`,
  'x outputs': xr(`<mixes><item outputs="${'1 '.repeat(M / 2 - 200)}"/></mixes>`),
  'x pi': '<?xml ' + ' '.repeat(M),
  'x pi2': `<?xml version="1.0"${' '.repeat(M)}`,
  'x close': xr('</' + 'a'.repeat(M - 200)),
  'x words': xr(`<mixes><item outputs="${'1 '.repeat(290000)}"/></mixes>`),
  'x spaced': xr(`<mixes>${'<item a="\n"/>'.repeat(140000)}</mixes>`),
};
it('x', async () => {
  for (const [name, text] of Object.entries(cases)) {
    const t = performance.now();
    const r = await readDocument(text, { source: 'x' });
    const dt = Math.round(performance.now() - t);
    console.log(
      name,
      text.length,
      dt + ' ms',
      r.ok ? 'OK' : `${r.error.length} ${r.error[0]?.code} ${JSON.stringify(r.error[0]).slice(0, 200)}`,
    );
  }
}, 600000);
