/** A rig, a target and an intents file that are good, to be broken in one place each. */

export const rigJson = `{
  "format": "bandwright-rig/1",
  "title": "Pier, matinee",
  "systems": {
    "packs": { "link": "fm-stereo", "audioLowHz": 40, "audioHighHz": 15000, "pilotHz": 19000 }
  },
  "mixes": [
    { "name": "Wren", "outputs": [1, 2], "feeds": "packs" },
    { "name": "Finch", "outputs": [3], "feeds": "packs" }
  ]
}
`;

export const rigXml = `<?xml version="1.0" encoding="UTF-8"?>
<rig format="bandwright-rig/1" title="Pier, matinee">
  <systems>
    <entry key="packs" link="fm-stereo" audioLowHz="40" audioHighHz="15000" pilotHz="19000"/>
  </systems>
  <mixes>
    <item name="Wren" outputs="1 2" feeds="packs"/>
    <item name="Finch" outputs="3" feeds="packs"/>
  </mixes>
</rig>
`;

export const targetJson = `{
  "format": "bandwright-target/1",
  "id": "pier-desk",
  "title": "A desk for tests",
  "provenance": "Invented.",
  "outputs": { "count": 8, "stereo": "legs-share" },
  "quantisers": {
    "frequency": { "kind": "geometric", "from": 20, "to": 20000, "count": 121 },
    "gain": { "kind": "linear", "from": -15, "to": 15, "step": 1 }
  },
  "slots": [
    { "id": "1", "types": { "highpass": { "frequency": "frequency", "slope": 12 } } },
    { "id": "2", "types": { "peaking": { "frequency": "frequency", "q": 8, "gain": "gain" } } },
    { "id": "3", "types": { "lowpass": { "frequency": "frequency", "slope": 12 } } }
  ],
  "realisations": [
    { "id": "cookbook-48k", "design": "cookbook", "qMeaning": "cookbook", "sampleRateHz": 48000 }
  ],
  "display": {},
  "evidence": { "grid": "untested", "response": "untested", "push": "untested" }
}
`;

export const intentsJson = `{
  "format": "bandwright-intents/1",
  "title": "One bell",
  "intents": [{ "role": "box", "type": "peaking", "frequencyHz": 400, "q": 1, "gainDb": -3 }]
}
`;

/** A recipe without a mix: enough to be told from a rig. */
export const recipeJson = `{
  "format": "bandwright-recipe/1",
  "rig": { "title": "Pier, matinee" },
  "target": {
    "id": "pier-desk",
    "title": "A desk for tests",
    "stereo": "legs-share",
    "evidence": { "grid": "untested", "response": "untested", "push": "untested" }
  },
  "fit": "nearest",
  "assumptions": [],
  "mixes": [],
  "problems": []
}
`;

/** A text with one part of it replaced; that part must be there, or the case would test something else. */
export const changed = (text: string, from: string, to: string): string => {
  if (!text.includes(from)) throw new Error(`the sample does not hold ${from}`);
  return text.replace(from, () => to);
};

/** The same, so many levels deep. */
export const nested = (depth: number, open: string, close: string): string =>
  `${open.repeat(depth)}${close.repeat(depth)}`;

/** Entities that each stand for ten of the one before: a billion words, were they expanded. */
export const entityBomb = `<?xml version="1.0"?>
<!DOCTYPE rig [
  <!ENTITY a0 "ha">
${Array.from({ length: 9 }, (_, i) => `  <!ENTITY a${i + 1} "${`&a${i};`.repeat(10)}">`).join('\n')}
]>
<rig format="bandwright-rig/1" title="&a9;"/>
`;

/** An entity that would be the text of a file of the system's. */
export const externalEntity = `<!DOCTYPE rig [<!ENTITY e SYSTEM "file:///etc/hostname">]>
<rig format="bandwright-rig/1" title="&e;"/>
`;

/** How a picture begins: a PNG's signature, and bytes that are no UTF-8. */
export const binaryJunk = Uint8Array.of(
  0x89,
  0x50,
  0x4e,
  0x47,
  0x0d,
  0x0a,
  0x1a,
  0x0a,
  0,
  0,
  0,
  0x0d,
  0xff,
  0xfe,
  0xc3,
);

/** Text as UTF-16, little end first, with its mark. */
export const utf16 = (text: string): Uint8Array => Buffer.from(`\uFEFF${text}`, 'utf16le');
