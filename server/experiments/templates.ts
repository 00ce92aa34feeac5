/** Experiments to begin with. Texts are a start that the teacher changes; ware and limits are those of the tables. */
import type { ExperimentPlan, TemplateName, WareRow } from './contract.ts';

const GLASS = { material: 'glass', referenceTemperatureC: '20' } as const;
const FLASK_25: WareRow = {
  ...GLASS,
  key: 'flask',
  label: 'Volumetric flask, filled to the ring mark',
  kind: 'volumetric-flask',
  nominalVolumeMl: '25',
  basis: 'contain',
  tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
  trialsPerGroup: 3,
};
const FLASK_100: WareRow = { ...FLASK_25, nominalVolumeMl: '100', trialsPerGroup: 4 };
const PIPETTE_25: WareRow = {
  ...GLASS,
  key: 'pipette',
  label: 'One-mark pipette',
  kind: 'single-volume-pipette',
  nominalVolumeMl: '25',
  basis: 'deliver',
  tolerance: { standard: 'ISO 648', edition: '2008', class: 'A' },
  trialsPerGroup: 3,
};
const CYLINDER_25: WareRow = {
  ...GLASS,
  key: 'cylinder',
  label: 'Measuring cylinder',
  kind: 'measuring-cylinder',
  nominalVolumeMl: '25',
  basis: 'contain',
  tolerance: { standard: 'ISO 4788', edition: '2005', class: 'B' },
  divisionMl: '0.5',
  trialsPerGroup: 3,
};
const BEAKER_25: WareRow = {
  ...GLASS,
  key: 'beaker',
  label: 'Beaker, filled to the printed mark',
  kind: 'beaker',
  nominalVolumeMl: '25',
  basis: 'contain',
  tolerance: { markedPercent: '10' },
  divisionMl: '25',
  trialsPerGroup: 3,
};
const BURETTE_25: WareRow = {
  ...GLASS,
  key: 'burette',
  label: 'Burette, from 0 to 25 mL',
  kind: 'burette',
  nominalVolumeMl: '25',
  basis: 'deliver',
  tolerance: { standard: 'ISO 385', edition: '2005', class: 'A' },
  divisionMl: '0.05',
  trialsPerGroup: 3,
};

const COMMON: Omit<ExperimentPlan, 'title' | 'question' | 'rows'> = {
  design: 'by-row',
  balances: [
    { label: 'Balance 1', resolutionG: '0.01' },
    { label: 'Balance 2', resolutionG: '0.01' },
    { label: 'Balance 3', resolutionG: '0.01' },
    { label: 'Balance 4', resolutionG: '0.01' },
  ],
  expectedGroups: 8,
  lessonMinutes: 45,
  asks: { prediction: true, within: true, sureness: true },
  conditions: {},
  cautionNote: null,
};

const plans: Record<TemplateName, ExperimentPlan> = {
  'four-ways': {
    ...COMMON,
    title: 'Four ways to measure the same 25 mL',
    question: 'Four pieces of glassware say 25 mL. Which of them can be trusted, how far, and for what?',
    rows: [BEAKER_25, CYLINDER_25, PIPETTE_25, FLASK_25],
  },
  'one-flask-many-hands': {
    ...COMMON,
    title: 'One flask, many hands',
    question:
      'Everybody fills the same flask to the same mark. How far do the fillings differ, and who or what makes it so?',
    rows: [FLASK_100],
  },
  meniscus: {
    ...COMMON,
    title: 'Does the meniscus matter?',
    question:
      'The same flask, with the lowest point of the meniscus on the mark and with its rim on the mark: is the difference real?',
    rows: [
      { ...FLASK_100, key: 'lowest-point', label: 'Lowest point of the meniscus on the mark' },
      { ...FLASK_100, key: 'rim', label: 'Rim of the meniscus on the mark' },
    ],
  },
  drops: {
    ...COMMON,
    title: 'Drops from a burette',
    question: 'Twenty drops are said to be a millilitre. How large is a drop, and how alike are drops?',
    rows: [
      {
        ...GLASS,
        key: 'drops',
        label: 'Twenty drops from a burette, one after another',
        kind: 'burette',
        nominalVolumeMl: '1',
        basis: 'deliver',
        trialsPerGroup: 5,
        drops: 20,
      },
    ],
  },
  'cool-and-warm': {
    ...COMMON,
    title: 'Cool and warm water',
    question:
      'The same flask holds cool water, then warm water. What does the balance say, and what is left after correction?',
    rows: [
      { ...FLASK_100, key: 'cool', label: 'Cool water, about 10 °C' },
      { ...FLASK_100, key: 'warm', label: 'Warm water, about 35 °C' },
    ],
  },
  'hands-and-vessels': {
    ...COMMON,
    design: 'crossed',
    title: 'Hands against vessels',
    question: 'Every group fills each of the three flasks. Do the hands differ more, or the flasks?',
    rows: ['A', 'B', 'C'].map((letter) => ({
      ...FLASK_25,
      key: `flask-${letter.toLowerCase()}`,
      label: `Flask ${letter}`,
      trialsPerGroup: 2,
    })),
  },
  own: {
    ...COMMON,
    title: '',
    question: 'How much does it really hold?',
    rows: [{ ...BURETTE_25, trialsPerGroup: 3 }],
  },
};

/** The plan of a template, to be changed freely. */
export const planOf = (template: TemplateName): ExperimentPlan => structuredClone(plans[template]);
