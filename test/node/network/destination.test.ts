import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../src/model/problem.js';
import { parseDestination, resolveDestination } from '../../../src/node/network/destination.js';

describe('a destination as it is typed', () => {
  it.each([
    ['desk.local', 'desk.local', null],
    ['desk', 'desk', null],
    ['desk_2.example:9000', 'desk_2.example', 9000],
    ['pültsch.example:1', 'pültsch.example', 1],
    ['desk.example.', 'desk.example.', null],
    ['192.0.2.7', '192.0.2.7', null],
    ['192.0.2.7:65535', '192.0.2.7', 65535],
    ['::1', '::1', null],
    ['2001:db8::7', '2001:db8::7', null],
    ['[::1]', '::1', null],
    ['[::1]:9000', '::1', 9000],
    ['[fe80::1%eth0]:9000', 'fe80::1%eth0', 9000],
    ['[::ffff:192.0.2.7]:9000', '::ffff:192.0.2.7', 9000],
  ])('%s is read', (text, host, port) => {
    expect(parseDestination(text)).toEqual({ ok: true, value: { host, port } });
  });

  it.each([
    ['nothing', '', '"" is no name and no address'],
    ['no host', ':9000', '"" is no name and no address'],
    ['no port after the colon', 'desk:', '"" is no port'],
    ['port 0', 'desk:0', '"0" is no port'],
    ['a port above 65535', 'desk:65536', '"65536" is no port'],
    ['a port in words', 'desk:osc', '"osc" is no port'],
    ['a negative port', 'desk:-1', '"-1" is no port'],
    ['a port with a blank', 'desk: 9000', '" 9000" is no port'],
    ['a port in other digits', 'desk:٩٠٠٠', 'is no port'],
    ['a blank', 'my desk', '"my desk" is no name'],
    ['a line break at the end', 'desk\n', 'is no name'],
    ['a control character', 'de\u0007sk', 'is no name'],
    ['a NUL', 'desk\0.example', 'is no name'],
    ['a scheme', 'osc.udp://desk:9000', '"//desk:9000" is no port'],
    ['a path', 'desk/mix', '"desk/mix" is no name'],
    ['a name in brackets', '[desk]:9000', '"desk" in brackets is no IPv6 address'],
    ['an IPv4 address in brackets', '[192.0.2.7]:9000', 'in brackets is no IPv6 address'],
    ['an open bracket', '[::1', 'is no name'],
    ['something behind the bracket', '[::1]9000', 'is no name'],
    ['two dots', 'desk..example', 'is no name'],
    ['a name too long', `${'a.'.repeat(128)}a`, 'is no name'],
  ])('%s is refused', (_, text, why) => {
    const read = parseDestination(text);
    expect(read.ok ? 'read' : read.error).toContain(why);
    expect(read.ok ? '' : read.error).toContain('192.0.2.7:9000');
  });

  it('what is refused prints no control characters', () => {
    const read = parseDestination('\u001b[31mdesk');
    expect(read.ok ? '' : read.error).not.toContain('\u001b');
  });
});

const codeOf = (outcome: Outcome<unknown>): string => (outcome.ok ? 'ok' : (outcome.error[0]?.code ?? ''));

describe('a destination looked up', () => {
  it('is one address', async () => {
    expect(await resolveDestination('192.0.2.7')).toEqual({ ok: true, value: '192.0.2.7' });
    expect(await resolveDestination('::1')).toEqual({ ok: true, value: '::1' });
    expect(await resolveDestination('localhost')).toEqual({ ok: true, value: '127.0.0.1' });
  });

  it.each([
    '255.255.255.255',
    '127.255.255.255',
    '224.0.0.1',
    'ff02::1',
    'ff02::1%lo',
    '0.0.0.0',
    '::',
    '::ffff:0.0.0.0',
    '::ffff:224.0.0.1',
    '::ffff:ffff:ffff',
    // As numbers an address may also be written in other ways, which the system's own look-up reads.
    '0',
    '0xe0000001',
    '4294967295',
  ])('%s is refused unless allowed', async (host) => {
    expect(codeOf(await resolveDestination(host))).toBe('destination-refused');
    expect(codeOf(await resolveDestination(host, { allowBroadcast: true }))).toBe('ok');
  });

  // RFC 6761, section 6.4: names under "invalid" are never found.
  it('is a problem where nobody knows the name', async () => {
    const found = await resolveDestination('desk.invalid');
    expect(codeOf(found)).toBe('host-unknown');
    expect(found.ok ? '' : found.error[0]?.message).toMatch(/"desk\.invalid" cannot be looked up/);
  });

  it.each(['', 'a\nb', '-\u001b[0m', 'a b'])('%j is not looked up', async (host) => {
    expect(codeOf(await resolveDestination(host))).toBe('destination-unreadable');
  });
});
