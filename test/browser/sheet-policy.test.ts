import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath } from './installed.js';
import { useBrowser } from './look.js';
import { atOnce, demo, deskOf, fitted } from './shows.js';

const { write, open } = useBrowser();

/** A place that hostile text would reach for, on this computer, and what came there. */
let server: Server;
let hits: string[] = [];
let place = '';

beforeAll(async () => {
  server = createServer(({ url = '' }, response) => {
    hits.push(url);
    response
      .setHeader('access-control-allow-origin', '*')
      .end(url === '/s.js' ? "ran('script from afar')" : '');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  place = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});

afterAll(() => new Promise((resolve) => server.close(resolve)));

const planted = (): string => `<script>ran('script')</script><style>h1{position:fixed}</style>
<h1 style="position:absolute">x</h1><svg onload="ran('picture')"></svg>
<img src="data:image/png;base64,x" onerror="ran('handler')"><img src="${place}/seen.png">
<iframe srcdoc="<script>parent.ran('frame')</script>"></iframe><iframe src="${place}/frame"></iframe>
<link rel="stylesheet" href="${place}/s.css"><script src="${place}/s.js"></script>
<object data="${place}/object"></object><a id="press" href="javascript:ran('link')">x</a>`;

/** What came of a page in which hostile text stands as it was, escaped by nobody. */
const cameOf = async (html: string) => {
  hits = [];
  const { page, faults } = await open(await write(''));
  const told: string[] = [];
  await page.exposeFunction('ran', (what: string) => told.push(what));
  await page.goto(`file://${await write(html)}`);
  await page.evaluate(() => document.querySelector<HTMLElement>('#press')?.click());
  const seen = await page.evaluate(() => ({
    positions: [...document.querySelectorAll('h1')].map((each) => getComputedStyle(each).position),
    ticks: document.querySelector('#ticks')?.textContent,
  }));
  await page.context().close();
  return { ran: told.sort(), loaded: hits.sort(), ...seen, refused: faults.join('\n') };
};

describe.skipIf(!chromiumPath)('the policy of a sheet', () => {
  it('lets nothing run, load or dress the page that a broken escape would have let in', async () => {
    const { html } = fitted({ ...demo, mixes: demo.mixes.slice(0, 1) }, await deskOf('cut-section'), atOnce);
    const spoilt = html.replace('<header>', () => `<header>${planted()}`);
    const held = await cameOf(spoilt);
    expect(held).toMatchObject({ ran: [], loaded: [], positions: ['static', 'static'] });
    // The page's own script still does its work.
    expect(held.ticks).toBe('0 of 1 ticked; kept on this device');
    for (const directive of ['script-src', 'style-src', 'default-src'])
      expect(held.refused).toContain(directive);
    // Without a policy all of it would have come to something.
    const open = await cameOf(spoilt.replace(/<meta http-equiv[^>]*>/, ''));
    expect(open.ran).toEqual(['frame', 'handler', 'link', 'picture', 'script', 'script from afar']);
    expect(open.loaded).toEqual(['/frame', '/object', '/s.css', '/s.js', '/seen.png']);
    expect(open.positions).toEqual(['absolute', 'fixed']);
  });

  it('names nobody to send a form to, and no other place for the page', async () => {
    const { html } = fitted({ ...demo, mixes: demo.mixes.slice(0, 1) }, await deskOf('cut-section'), atOnce);
    const [, policy = ''] = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html) ?? [];
    // CSP Level 3: what default-src does not stand in for.
    expect(policy.split('; ')).toEqual(
      expect.arrayContaining([
        'default-src &#39;none&#39;',
        'base-uri &#39;none&#39;',
        'form-action &#39;none&#39;',
      ]),
    );
    expect(policy).not.toMatch(/unsafe|\*|https?:|data:/);
  });
});
