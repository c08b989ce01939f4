import type { Emphasise } from '../layout/emphasis.js';
import type { Desk } from '../model/desk.js';
import type { Outcome } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Target } from '../model/target.js';

/** What a sheet says of itself beside the recipe: nothing of it is known to the recipe. */
export interface SheetContext {
  /** Where the show is, and when, as somebody typed it. */
  readonly venue?: string;
  readonly date?: string;
  /** What the recipe was made of: the name of each file, and its SHA-256 in hexadecimal digits. */
  readonly inputs?: readonly { readonly name: string; readonly sha256: string }[];
  /** The command line that writes this recipe as JSON, to be pushed, as recipe.json. */
  readonly jsonCommand?: string;
  /** Whether recipe.json is written beside the sheet. */
  readonly writesJson?: boolean;
  /** What may help a guard that falls short: a sentence, and what to type where there is something. */
  readonly advice?: readonly { readonly text: string; readonly command?: string }[];
  /** What a push has to be told of the desk, as it is typed; nothing for a shipped target. */
  readonly deskWords?: string;
  /** What a restore has to be told: kinds of grid of one's own. */
  readonly gridWords?: string;
}

export interface ExportContext {
  /** The target the recipe was made for. */
  readonly target: Target;
  /** The desk with its grids, where they have been made: pictures mark the frequencies that its knobs can take. */
  readonly desk?: Desk;
  /** How wide the lines of a form for people may be; 80 unless given. Forms for programs have no use for it. */
  readonly columns?: number;
  /** What a sheet tells beside the recipe. */
  readonly sheet?: SheetContext;
  /** All there is to tell people, not only what is dialled and what comes of it. */
  readonly full?: boolean;
  /** Whether text draws what the filters do over frequency. */
  readonly plot?: boolean;
  /** How a form for people makes verdicts stand out, once lines are as wide as they are; left as they are unless given. */
  readonly emphasise?: Emphasise;
}

/**
 * A form of the recipe, as one file: a plain object, the plug-in of this room. It writes nothing, and the same
 * recipe and context always give the same content.
 */
export interface Exporter {
  /** The name people choose it by: lower case, digits and hyphens. */
  readonly name: string;
  /** One line for people. */
  readonly summary: string;
  /** A plain file name, the same for every recipe: nothing from outside gets into a path. */
  readonly fileName: string;
  /** RFC 6838. Text is UTF-8. */
  readonly mediaType: string;
  /** Text, or bytes where the form is binary. */
  content(recipe: Recipe, context: ExportContext): Outcome<string | Uint8Array>;
}

/**
 * Characters that JSON and XML may hold as they are and that a terminal would obey, or a reader be misled
 * by: C1 controls, separators of lines, format characters such as overrides of direction.
 */
const controlCharacters = /[\u007f-\u009f\u2028\u2029\p{Cf}]/gu;

/** Writes them in a format's own way of naming a character, which reads back as the character. */
export const escapeControlCharacters = (content: string, written: (character: string) => string): string =>
  content.replace(controlCharacters, written);
