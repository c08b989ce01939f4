import { quote } from '../../units/quote.js';

const declaration =
  /^<\?xml[ \t\n]+version[ \t\n]*=[ \t\n]*(?:"([^"]*)"|'([^']*)')(?:[ \t\n]+encoding[ \t\n]*=[ \t\n]*(?:"([^"]*)"|'([^']*)'))?(?:[ \t\n]+standalone[ \t\n]*=[ \t\n]*(?:"(?:yes|no)"|'(?:yes|no)'))?[ \t\n]*\?>/;

export interface Declaration {
  readonly end: number;
  readonly fault: { readonly code: string; readonly message: string } | null;
}

const syntax = (message: string): Declaration['fault'] => ({ code: 'xml-syntax', message });

const faultOf = (version: string, encoding: string | undefined): Declaration['fault'] => {
  if (version !== '1.0') return syntax(`XML ${quote(version)} is not read, only 1.0`);
  if (encoding === undefined || /^utf-?8$/i.test(encoding)) return null;
  const message = `the encoding ${quote(encoding)} is not read, only UTF-8; save the file as UTF-8 and say so here`;
  return { code: 'xml-encoding', message };
};

/** Reads the XML declaration a text begins with (XML 1.0, production 23); null where it begins otherwise. */
export const readDeclaration = (text: string): Declaration | null => {
  if (!/^<\?xml[ \t\n]/.test(text)) return null;
  const match = declaration.exec(text);
  if (match === null) {
    return { end: 0, fault: syntax('the XML declaration reads <?xml version="1.0" encoding="UTF-8"?>') };
  }
  const [whole, versionA, versionB, encodingA, encodingB] = match;
  return { end: whole.length, fault: faultOf(versionA ?? versionB ?? '', encodingA ?? encodingB) };
};
