import type { OscRead } from '../../model/target.js';
import type { Result } from '../../units/result.js';
import type { AskedValue, Question } from './question.js';

/** What a target calls a way of asking: the word that stands for it, or what it is asked by. */
export type AskingName = Extract<OscRead, string> | Extract<OscRead, object>['by'];

/** A way to ask a desk for its values: a plain object, the plug-in of this folder. `Read` is what a target says of it. */
export interface Asking<Read extends OscRead = OscRead> {
  readonly name: AskingName;
  /** Left out where a desk answers nothing. The error is a sentence that says why there is no such question. */
  question?(value: AskedValue, read: Read): Result<Question, string>;
  /** How a value is asked for, in a clause for people. */
  tell(read: Read): string;
}
