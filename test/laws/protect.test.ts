import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeGuard } from '../../src/fitting/make-guard.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { cases } from './protect/cases.js';
import { choiceCount, exhaust } from './protect/exhaustive.js';

describe('x', () => {
  it('stats', () => {
    const n = Number(process.env.N ?? 200);
    const sample = fc.sample(
      cases.filter((c) => choiceCount(c) <= 6000),
      { numRuns: n, seed: Number(process.env.SEED ?? 1) },
    );
    let ok = 0,
      te = 0,
      tp = 0,
      maxp = 0;
    const out: string[] = [];
    const kinds: Record<string, number> = {};
    for (const [i, c] of sample.entries()) {
      let t = performance.now();
      const e = exhaust(c);
      te += performance.now() - t;
      t = performance.now();
      const p = protect.fit(c.intents, c.context);
      const dt = performance.now() - t;
      tp += dt;
      maxp = Math.max(maxp, dt);
      const w = makeGuard(p.bands, c.target.realisations, c.context.scope!).worst;
      const k = e === null ? 'none' : e.withinDb > c.context.scope!.keepLossAtMostDb ? 'raised' : 'within';
      kinds[k] = (kinds[k] ?? 0) + 1;
      const same = e
        ? Math.abs(w.pilotAttenuationDb - e.best.attenuationDb) < 1e-9 &&
          Math.abs(w.keepLossDb - e.best.lossDb) < 1e-9 &&
          Math.abs(w.guardBandDb - e.best.guardBandDb) < 1e-9
        : true;
      if (same) ok++;
      else
        out.push(
          `${i} ${k} want ${e!.best.attenuationDb.toFixed(4)}/${e!.best.lossDb.toFixed(4)}/${e!.best.guardBandDb.toFixed(4)} within ${e!.withinDb} ${JSON.stringify(e!.best.filters)}\n   got ${w.pilotAttenuationDb.toFixed(4)}/${w.keepLossDb.toFixed(4)}/${w.guardBandDb.toFixed(4)} ${JSON.stringify(p.bands.map((b) => [b.slot, b.role, b.type, b.set]))} ${p.shortcomings.map((s) => s.kind + ('leastDb' in s ? s.leastDb : ''))} limit ${c.context.scope!.keepLossAtMostDb} spare ${c.context.spareSlots} win ${c.context.scope!.windowHz} ${c.target.realisations.map((r) => r.id)} slots ${c.target.slots.map((s) => s.id + ':' + Object.keys(s.types))}`,
        );
    }
    process.stdout.write(
      `${out.slice(0, 12).join('\n')}\n${ok}/${n} exhaustive ${te | 0}ms protect ${tp | 0}ms max ${maxp | 0} ${JSON.stringify(kinds)}\n`,
    );
    expect(ok).toBe(n);
  });
});
