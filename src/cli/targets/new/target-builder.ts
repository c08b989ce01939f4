import type { Target } from '../../../model/target.js';
import type { Builder } from '../../guided/builder.js';
import {
  countQuestion,
  namesQuestion,
  provenanceQuestion,
  rateQuestion,
  slotsQuestion,
  stereoQuestion,
  titleQuestion,
} from './desk-questions.js';
import { gridQuestion, moreReadings } from './grid-questions.js';
import { keptGridsQuestion } from './kept-grids-question.js';
import { oscQuestion } from './osc-questions.js';
import { displayQuestion } from './screen-question.js';
import { nextNeed, type TargetDraft, targetDraft } from './target-draft.js';

/** Asks for a target: outputs, filters, the grids of their knobs, the screen, the sample rate, OSC, and whose figures they are. */
export const targetBuilder = (id: string, from: Target | null): Builder<TargetDraft> => ({
  start: targetDraft(id, from),
  next: (draft) => {
    if (draft.title === null) return titleQuestion(draft);
    if (draft.count === null) return countQuestion(draft);
    if (draft.stereo === null) return stereoQuestion(draft);
    if (draft.groups === null && draft.kept === null) return slotsQuestion(draft);
    if (draft.kept === null && draft.names === null) return namesQuestion(draft);
    if (draft.kept !== null && !draft.areKeptGridsTold) return keptGridsQuestion(draft);
    const need = nextNeed(draft);
    if (need)
      return (draft.readings === null ? null : moreReadings(draft, need)) ?? gridQuestion(draft, need);
    if (draft.display === null) return displayQuestion(draft);
    if (draft.realisations === null) return rateQuestion(draft);
    return oscQuestion(draft) ?? (draft.provenance === null ? provenanceQuestion(draft) : null);
  },
});
