/** Words of the papers of a class: the everyday word first, the trade's word beside it. Paper is English. */
import type { QuestionReason } from '../../metrology/class/questions.ts';
import type { Basis } from '../../metrology/record.ts';
import type { ClassData } from '../contract-class.ts';
import type { ReadingRule } from '../contract.ts';

type Sureness = NonNullable<ClassData['predictions'][number]['sureness']>;

export const MADE_UP = 'Made-up class: the program invented every reading, to rehearse with';

/** How a row was measured; never the two on one axis without a word. */
export const weighedWords: Record<Basis, string> = {
  contain: 'the full vessel is weighed: what it holds',
  deliver: 'poured out and weighed: what it gives',
};
export const weighedShort: Record<Basis, string> = { contain: 'what it holds', deliver: 'what it pours out' };

export const sureWords: Record<Sureness, string> = { guess: 'a guess', 'fairly-sure': 'fairly sure', sure: 'sure' };

/** What volumes a piece of ware can measure, by its marks. */
export const markWords: Record<ReadingRule['mark'], string> = {
  ring: 'one volume, at its mark',
  scale: 'any volume on its scale',
  broad: 'none; its marks are for orientation',
  none: 'one volume, by itself',
};

/** How to read a piece of ware. */
export const readingWords = ({ mark, divisionMl, estimatedToMl }: ReadingRule): string => {
  switch (mark) {
    case 'ring':
      return 'One mark, no scale to read: the lowest point of the meniscus on the mark, the eye level with it.';
    case 'scale':
      return divisionMl === null || estimatedToMl === null
        ? 'Read all certain digits and estimate one more, the eye level with the meniscus.'
        : `Read to the lines of ${divisionMl} mL and estimate one digit more, to ${Number(estimatedToMl.toPrecision(6))} mL.`;
    case 'broad':
      return 'A printed line for orientation: fill to it, read no digits between.';
    case 'none':
      return 'Nothing to read: it fills by itself.';
  }
};

export const ACCURACY =
  'Accuracy has two parts: trueness (how far off on average) and precision (how far apart). A small spread alone does not make a result accurate, nor does a small bias alone.';
export const LIMITS_NOTE =
  'A limit bounds the vessel, filled with great care and corrected in full. A single filling outside it tells of hands and reading too; it does not make the vessel bad. Limits are those of the tables of this program: look them up in the standard before you judge ware by them.';
export const SPREAD_NOTE =
  'F compares the spread between groups with the spread within them; p is the chance of groups at least this far apart when groups do not differ at all. s_R holds both: what to expect of the next filling by anybody in the room.';
export const REACH_NOTE =
  'A single filling by anybody lies within |bias| + 2·s_R of the nominal volume about 95 times in 100. The sum is a choice of this program.';
export const WHICH =
  'Which would you take to make up a solution, which to pour a portion out, which to hold water for rinsing? Give the reason with the numbers of the class: how far off, how far apart, contain or deliver, one mark or a scale.';
export const CHANGED =
  'What changed from column to column, and why? Simple takes a gram for a millilitre. The second takes the density of the water at its temperature. The third also takes the buoyancy of the air and the widening of the glass.';
export const CAUTIONS = [
  'Your local rules and the risk assessment of whoever teaches come first.',
  'Water only. Look for chips and cracks before you touch glass; damaged ware is taken out of use, and broken glass is never picked up by hand.',
  'Never pipette by mouth: use a filler, pushed on near the end of the pipette, without force.',
  'After a spill at the balance stop, keep wet hands off mains plugs and cables, and dry it with a cloth. A wet floor is slippery.',
  'Carry vessels of a litre and more with two hands, by body and neck.',
] as const;

export const NO_TITLE = 'Class experiment';
export const groupWords = ({ number, name }: Pick<ClassData['groups'][number], 'number' | 'name'>): string =>
  name === null ? `Group ${number}` : `Group ${number} · ${name}`;

export const reasonWords: Record<QuestionReason, string> = {
  'contain-or-deliver': 'contain or deliver',
  'one-mark-or-graduated': 'one mark or a scale',
  'other-volume': 'another volume',
  'too-much-spread': 'too far apart',
  biased: 'too far off',
  'too-few-data': 'too few fillings',
  'all-adequate': 'every ware would do',
  'smallest-bias': 'its mean lies nearest to the nominal volume',
  'smallest-spread': 'fillings by anybody lie closest together',
  'tightest-limit': 'its standard allows it least',
  'larger-part': 'of s_r and s_L the larger one',
  'limit-bounds-vessel': 'a limit bounds the vessel, not one filling',
};

/** Answers that are no ware. */
export const optionWords: Record<string, string> = {
  none: 'none of these',
  'within-group': 'within a group',
  'between-groups': 'between groups',
  yes: 'yes',
  no: 'no',
  'fillings-cannot-say': 'single fillings cannot say',
  less: 'less',
  'as-marked': 'as much as is marked',
  more: 'more',
};

export const SHEET_RULES = [
  'Write every digit the balance shows, zeros at the end included.',
  'Fill in what you expect before the first weighing of that ware.',
  'Strike a slip through and write the new value beside it; rub nothing out.',
  'Write no names of people on this sheet.',
] as const;
