/** An XML element as the reader sees it: attributes decoded, text kept only where it is more than space. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlElement[];
  readonly text: string;
  readonly offset: number;
}
