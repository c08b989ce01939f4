import { type OscAddressed, oscTransports } from '../../../model/target.js';
import { parseCount } from '../../../units/parse.js';
import { quoteText } from '../../../units/quote.js';
import { fail, type Result } from '../../../units/result.js';
import { type GuidedQuestion, heard, type Taken } from '../../guided/builder.js';
import { acceptTarget, asBefore } from './desk-questions.js';
import { addressable, encodable, noOsc, type OscDraft } from './osc-draft.js';
import {
  addressedWords,
  encodingQuestion,
  nothing as none,
  orderQuestion,
  readQuestion,
  withOsc,
} from './osc-values.js';
import { type TargetDraft, targetOf } from './target-draft.js';
import { guessedAddress, likeOther, readingsOf } from './typed-address.js';

type Asked = GuidedQuestion<TargetDraft>;
type Answered = Result<Taken<TargetDraft>, string>;

const parsePort = (text: string): Result<number, string> => {
  const port = parseCount(text);
  return port.ok && port.value > 65_535 ? fail(`${quoteText(text)} is no port; one is 1 to 65535.`) : port;
};

const transportQuestion = (draft: TargetDraft): Asked => ({
  id: 'osc',
  flag: '--osc',
  words: 'Does the desk listen to OSC?',
  notes: ['Its manual says so under remote control. Without it a recipe is dialled by hand.'],
  usual: draft.from ? asBefore : none,
  example: 'udp:52200',
  choices: [
    ...(draft.from ? [{ value: asBefore, words: `as in ${draft.from.id}` }] : []),
    { value: none, words: 'no, or not known' },
    { value: 'udp', words: 'yes, over UDP' },
    { value: 'tcp-slip', words: 'yes, over TCP, SLIP' },
    { value: 'tcp-length-prefix', words: 'yes, over TCP, each packet behind its length' },
  ],
  take: (text) => {
    if (text === asBefore && draft.from) {
      return acceptTarget({ ...draft, osc: { ...noOsc, whole: draft.from.osc ?? null, isPortTold: true } });
    }
    if (text === none) return heard({ ...draft, osc: noOsc });
    const [name, digits, ...more] = text.split(':');
    const kind = oscTransports.find((each) => each === name);
    if (kind === undefined || more.length > 0) {
      return fail(
        `${quoteText(text)} is no way OSC travels; there are ${none}, ${oscTransports.join(', ')}, each with a port as in "udp:52200".`,
      );
    }
    if (digits === undefined) return heard({ ...draft, osc: { ...noOsc, transport: { kind } } });
    const port = parsePort(digits);
    if (!port.ok) return port;
    return heard({ ...draft, osc: { ...noOsc, transport: { kind, port: port.value }, isPortTold: true } });
  },
});

const portQuestion = (draft: TargetDraft, { transport }: OscDraft): Asked => ({
  id: 'port',
  flag: '--osc',
  words: 'At which port does it listen?',
  usual: 'not known',
  example: '52200',
  take: (text) => {
    if (text === 'not known') return withOsc(draft, { isPortTold: true });
    const port = parsePort(text);
    if (!port.ok || !transport) return port.ok ? fail('There is no transport.') : port;
    return withOsc(draft, { isPortTold: true, transport: { ...transport, port: port.value } });
  },
});

const addressFlag = '--address';

const addressQuestion = (draft: TargetDraft, osc: OscDraft, of: OscAddressed): Asked => {
  const { slots, outputs } = targetOf(draft);
  const isOfSlot = of !== 'outputName';
  const first = Object.keys(osc.addresses).length === 0;
  const places = { outputs: outputs.count, slots: slots.map(({ id }) => id) };
  const known = Object.values(osc.addresses).find((address) => typeof address === 'string');
  const guess = guessedAddress(osc.addresses.frequency, of);
  const mayLack = of === 'outputName' || of === 'on';
  const what = `the address of ${addressedWords[of]}`;
  const usual = guess ?? (mayLack ? none : undefined);
  const accept = (address: string | null, ...lines: readonly string[]): Answered =>
    withOsc(draft, { addresses: { ...osc.addresses, [of]: address }, example: null }, ...lines);
  return {
    id: `address-${of}`,
    flag: addressFlag,
    words: usual === undefined ? `Paste one example: ${what}` : `And ${what}?`,
    notes: first ? ['Any output and slot will do; which number is which is told next.'] : [],
    ...(usual === undefined ? {} : { usual }),
    example: `/mix/{output}/filter/{slot}/${of}`,
    take: (text) => {
      if (text === none && mayLack) return accept(null);
      if (text === none) {
        return fail(
          `OSC has to reach every knob that can be turned, or none is set: paste ${what}, or go back and say that the desk does not listen.`,
        );
      }
      const readings = readingsOf(text, places, isOfSlot);
      if (!readings.ok) return readings;
      const alike = known === undefined ? readings.value : likeOther(readings.value, known);
      const [only, ...others] = alike;
      if (only && (others.length === 0 || known !== undefined)) return accept(only.template, only.template);
      return withOsc(draft, { example: { of, address: text } });
    },
  };
};

/** Which of the numbers in an example is which. */
const placesQuestion = (
  draft: TargetDraft,
  osc: OscDraft,
  example: NonNullable<OscDraft['example']>,
): Asked => {
  const { slots, outputs } = targetOf(draft);
  const places = { outputs: outputs.count, slots: slots.map(({ id }) => id) };
  const readings = readingsOf(example.address, places, example.of !== 'outputName');
  const found = readings.ok ? readings.value : [];
  return {
    id: 'places',
    flag: addressFlag,
    words: `What is what in ${example.address}?`,
    ...(found[0] ? { usual: found[0].template } : {}),
    example: found[0]?.template ?? '',
    choices: found.map(({ template, output, slot }) => ({
      value: template,
      words: [...(output ? [`output ${output}`] : []), ...(slot ? [`slot ${slot}`] : [])].join(', '),
      hint: template,
    })),
    take: (text) =>
      found.some(({ template }) => template === text)
        ? withOsc(draft, { addresses: { ...osc.addresses, [example.of]: text }, example: null }, text)
        : fail(`${quoteText(text)} is none of ${found.map(({ template }) => template).join(', ')}.`),
  };
};

/** The next question about OSC; null where nothing is left to ask. */
export const oscQuestion = (draft: TargetDraft): Asked | null => {
  const { osc } = draft;
  if (osc === null) return transportQuestion(draft);
  if (osc.whole || osc.transport === null) return null;
  if (!osc.isPortTold) return portQuestion(draft, osc);
  if (osc.example) return placesQuestion(draft, osc, osc.example);
  const unaddressed = addressable(targetOf(draft).slots).find((name) => osc.addresses[name] === undefined);
  if (unaddressed) return addressQuestion(draft, osc, unaddressed);
  const unencoded = encodable(osc).find((name) => osc.encodings[name] === undefined);
  if (unencoded) return encodingQuestion(draft, osc, unencoded);
  const { type } = osc.encodings;
  if (type && type.as !== 'text' && type.order === undefined) return orderQuestion(draft, osc, type);
  return osc.read === null ? readQuestion(draft, osc) : null;
};
