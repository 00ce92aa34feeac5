/** Cautions in words, as the screens say them; a test holds both equal. */
import type { Caution } from '../contract-cautions.ts';

export const cautionWords: Record<Caution, string> = {
  'data-sheet-first': 'Read the safety data sheet first.',
  'goggles-and-gloves': 'Goggles and gloves on.',
  'licensed-practice': 'Only where local rules and a licence allow work with it.',
  toxic: 'Toxic: keep it off hands and out of the air.',
  corrosive: 'Corrosive: it burns skin and eyes.',
  harmful: 'Harmful: keep it off skin, wash your hands afterwards.',
  irritant: 'Irritates skin and eyes.',
  oxidiser: 'Oxidiser: keep it away from anything that burns.',
  fumes: 'It gives off fumes: work in the fume cupboard.',
  'acid-into-water': 'Acid into water, slowly and stirring, never the other way round: it can boil up and splash.',
  'heat-of-dissolution': 'It grows hot as it dissolves: small portions, in a beaker that stands cool.',
  'dissolve-in-beaker': 'Dissolve in a beaker and rinse over, never in the volumetric flask.',
  'cool-before-mark': 'Let it come to room temperature before you set the mark.',
  'no-storage-in-flask': 'Store in a bottle, never in the volumetric flask.',
  'dry-before-weighing': 'Dry it as its instructions say, and let it cool in a desiccator before weighing.',
  'takes-up-air': 'It takes up water and carbon dioxide from the air: weigh it quickly.',
  'loses-water': 'It can lose water of crystallisation: take it from a closed bottle.',
  'keep-dark': 'Keep it in the dark.',
  stains: 'It stains skin and cloth.',
  environment: 'It harms water life: collect what is left over, nothing into the sink.',
};
