/**
 * Characters that JSON and XML may hold as they are and that a terminal would obey, or a reader be misled
 * by: C1 controls, separators of lines, format characters such as overrides of direction.
 */
const obeyed = /[\u007f-\u009f\u2028\u2029\p{Cf}]/gu;

/** Writes them in a format's own way of naming a character, which reads back as the character. */
export const escapeObeyed = (content: string, written: (character: string) => string): string =>
  content.replace(obeyed, written);
