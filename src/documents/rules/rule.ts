import type { Problem } from '../../model/problem.js';

/**
 * What no schema can say of a document. Its problems carry its name as their code. Rules see only documents
 * that fit their schema.
 */
export interface Rule<Document> {
  readonly name: string;
  check(document: Document): readonly Problem[];
}
