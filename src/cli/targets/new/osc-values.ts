import type { FilterType } from '../../../filters/filter.js';
import type { OscAddressed, OscEncoding, OscParameter } from '../../../model/target.js';
import { typeWords } from '../../../model/words.js';
import { quoteText } from '../../../units/quote.js';
import { fail, ok, type Result } from '../../../units/result.js';
import { type GuidedQuestion, heard, type Taken } from '../../guided/builder.js';
import { acceptTarget } from './desk-questions.js';
import { encodable, noOsc, type OscDraft, switchedTypes } from './osc-draft.js';
import { type TargetDraft, targetOf } from './target-draft.js';
import { parseType } from './typed-slots.js';

type Asked = GuidedQuestion<TargetDraft>;
type Answered = Result<Taken<TargetDraft>, string>;

/** What is answered where there is nothing. */
export const nothing = 'none';

/** A draft that knows more of OSC, where the reader of targets finds nothing wrong with it. */
export const withOsc = (draft: TargetDraft, osc: Partial<OscDraft>, ...lines: readonly string[]): Answered =>
  acceptTarget({ ...draft, osc: { ...(draft.osc ?? noOsc), ...osc } }, ...lines);

/** What has an address, in words. */
export const addressedWords: Readonly<Record<OscAddressed, string>> = {
  frequency: 'the frequency',
  q: 'the Q',
  bandwidth: 'the bandwidth',
  gain: 'the gain',
  slope: 'the slope',
  on: 'the switch of a filter, on and off',
  type: 'the type of a filter',
  outputName: 'the name of an output',
};

const oscTypes = ['f', 'i', 'd', 'h', 's'] as const;
const ways = ['engineering', 'index', 'fraction', 'text'] as const;

/** How a value travels, as in `engineering f`, `index`, `fraction:d`. */
const parseEncoding = (text: string): Result<OscEncoding, string> => {
  const [way, type] = text.toLowerCase().split(/[\s:]+/);
  const as = ways.find((each) => each === way);
  const usual = { engineering: 'f', index: 'i', fraction: 'f', text: 's' } as const;
  const sent = type === undefined ? as && usual[as] : oscTypes.find((each) => each === type);
  return as === undefined || sent === undefined
    ? fail(
        `${quoteText(text)} is no way a value travels; there are ${ways.join(', ')}, each with an OSC type as in "engineering f": ${oscTypes.join(', ')}.`,
      )
    : ok({ as, type: sent });
};

const encodingChoices = (of: OscParameter): GuidedQuestion<TargetDraft>['choices'] => {
  if (of === 'on') {
    return [
      { value: 'index i', words: '1 and 0, a whole number (i)' },
      { value: 'index f', words: '1 and 0, a float (f)' },
    ];
  }
  if (of === 'type') {
    return [
      { value: 'index i', words: 'as a number, counted from 0 (i)' },
      { value: 'index f', words: 'as a number, counted from 0, a float (f)' },
      { value: 'text s', words: 'as its name on the screen (s)' },
    ];
  }
  return [
    { value: 'engineering f', words: 'as it is, in Hz, dB or Q: a float (f)' },
    { value: 'fraction f', words: 'from 0 at the bottom stop to 1 at the top (f)' },
    { value: 'index i', words: 'as the number of the step, counted from 0 (i)' },
    { value: 'text s', words: 'as text, as on the screen (s)' },
  ];
};

export const encodingQuestion = (draft: TargetDraft, osc: OscDraft, of: OscParameter): Asked => {
  const before = encodable(osc).find((each) => each !== 'on' && each !== 'type' && osc.encodings[each]);
  const encoding = before && osc.encodings[before];
  const isSwitch = of === 'on' || of === 'type';
  const usual = isSwitch ? 'index i' : encoding ? `${encoding.as} ${encoding.type}` : 'engineering f';
  const types = switchedTypes(targetOf(draft).slots);
  return {
    id: `encoding-${of}`,
    flag: '--encoding',
    words: `How does ${addressedWords[of]} travel?`,
    usual,
    example: usual,
    choices: encodingChoices(of) ?? [],
    take: (text) => {
      const told = parseEncoding(text);
      if (!told.ok) return told;
      // Where types are counted, their order is asked for next: until then any will do.
      const isCounted = of === 'type' && told.value.as !== 'text';
      const order = isCounted ? { order: types } : {};
      const good = withOsc(draft, { encodings: { ...osc.encodings, [of]: { ...told.value, ...order } } });
      return good.ok
        ? heard({ ...draft, osc: { ...osc, encodings: { ...osc.encodings, [of]: told.value } } })
        : good;
    },
  };
};

export const orderQuestion = (draft: TargetDraft, osc: OscDraft, encoding: OscEncoding): Asked => {
  const types = switchedTypes(targetOf(draft).slots);
  const words = types.map((type) => typeWords[type]).join(', ');
  return {
    id: 'type-order',
    flag: '--type-order',
    words: 'In which order does the desk count the types, from 0?',
    notes: ['Types that no filter here can be switched to count too, where the desk counts them.'],
    example: words,
    take: (text) => {
      const order: FilterType[] = [];
      for (const part of text.split(/\s*[,;]\s*/).filter(Boolean)) {
        const type = parseType(part);
        if (!type.ok) return type;
        order.push(type.value);
      }
      return withOsc(draft, { encodings: { ...osc.encodings, type: { ...encoding, order } } });
    },
  };
};

const same = 'same';
const elsewhere = 'elsewhere';

export const readQuestion = (draft: TargetDraft, osc: OscDraft): Asked => ({
  id: 'read',
  flag: '--read',
  words: osc.isAskedElsewhere
    ? 'Where is it asked for? {address} stands for where it is written'
    : 'How is a value asked for?',
  usual: osc.isAskedElsewhere ? '/get{address}' : same,
  example: same,
  ...(osc.isAskedElsewhere
    ? {}
    : {
        choices: [
          { value: same, words: 'at its own address, sent without a value' },
          { value: elsewhere, words: 'at another address' },
          { value: nothing, words: 'not at all', hint: 'nothing can be kept or proved' },
        ],
      }),
  take: (text) => {
    if (text === same) return withOsc(draft, { read: 'same-address-without-arguments' });
    if (text === nothing) return withOsc(draft, { read: 'none' });
    if (text === elsewhere) return heard({ ...draft, osc: { ...osc, isAskedElsewhere: true } });
    if (!text.includes('{address}')) {
      return fail(
        `${quoteText(text)} is no way to ask; write ${same}, ${nothing}, or where, as in "/get{address}".`,
      );
    }
    return withOsc(draft, { read: { by: 'address', address: text, answeredAt: 'written-address' } });
  },
});
