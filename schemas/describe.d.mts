/** The text of README.md. */
export declare const guide: () => string;
