/** What a blank sheet for the bench says of a plan, gathered from the register; nothing is kept. */
import { makePdf } from '../certificates/pdf/making.ts';
import type { Fact } from '../certificates/statements.ts';
import { summaryHead } from '../certificates/view-summaries.ts';
import { findVessel } from '../glassware/store.ts';
import { decimalsOf } from '../metrology/decimal.ts';
import { fixed, significant } from '../metrology/display.ts';
import type { BenchSheetBody, StandardisationPlan } from './contract-bench.ts';
import { cautionsFor, type Caution } from './contract-cautions.ts';
import type { SeriesBody } from './contract-choice.ts';
import type { DilutionBody, SolidBody, SolutionResult, StockBody, VesselAtMark } from './contract.ts';
import { readFormula } from './formula.ts';
import type { Gathering } from './gathering.ts';
import type { BenchContent, BenchSheetInput } from './papers/bench-sheet.ts';
import { solidSteps, titrationSteps, transferSteps, type AtMark } from './papers/bench-steps.ts';
import { cautionsAt } from './papers/caution-steps.ts';
import { concentrationWords } from './papers/facts.ts';
import { seriesFor } from './planning-series.ts';
import { solve } from './solving.ts';
import { findPreparation } from './store.ts';
import { knownSubstance } from './substances.ts';
import { USUAL_STEP_G } from './weighed.ts';

const around = (cautions: readonly Caution[]) => ({
  before: cautionsAt('before', cautions),
  after: cautionsAt('after', cautions),
});

const foreseenFacts = (result: SolutionResult, temperatureC: string | null): Fact[] => [
  ['Foreseen', concentrationWords({ approximate: result.approximate, result })],
  ...(temperatureC === null ? [] : [['Made up at', `${temperatureC} °C`] as Fact]),
];

const shareWords = (text: string): string => `${significant(100 * Number(text), 4)} %`;

const stepOfBalance = async (gathering: Gathering, balanceId: string | undefined): Promise<string> => {
  const balance = balanceId === undefined ? null : await gathering.balance(balanceId);
  const step = balance?.facts.kind === 'balance' ? balance.facts.resolutionG : undefined;
  return step ?? String(USUAL_STEP_G);
};

/** A weighing that was typed already belongs to the record, not to the plan. */
const solidContent = async (gathering: Gathering, typed: SolidBody): Promise<BenchContent> => {
  const { weighing: _done, ...body } = typed;
  const { result } = await solve(gathering, body);
  const { substance, target, madeUp } = body;
  const used = result.vessels[0];
  const flask = used && { tag: used.tag, ml: String(used.nominalMl) };
  const decimals = decimalsOf(await stepOfBalance(gathering, body.balanceId));
  const { toWeigh } = result;
  const water = substance.waterMassFraction;
  return {
    title: `${substance.name} ${target.value} ${target.unit}`,
    way: madeUp.by === 'volume' ? 'a solid made up to the mark' : 'a solid made up by weighing',
    facts: [
      [
        ['Wanted', `${target.value} ${target.unit}`],
        ['Weigh', toWeigh === null ? '–' : `${fixed(toWeigh.readingG, decimals)} g, as the balance shows it`],
        ...(madeUp.by === 'mass' ? [['Solution', `${madeUp.solutionG} g`] as Fact] : []),
        ...(flask ? [['Flask', `${flask.tag}, ${flask.ml} mL`] as Fact] : []),
      ],
      [
        ['Solid', `${substance.name}, ${substance.formula}`],
        ['Purity', shareWords(substance.purity)],
        ...(water === undefined ? [] : [['Water in it', shareWords(water)] as Fact]),
        ...foreseenFacts(result, madeUp.by === 'volume' ? madeUp.temperatureC : null),
      ],
    ],
    works: [{ heading: null, steps: solidSteps(body, result, { flask: flask ?? null, decimals }) }],
    titrations: null,
    findings: result.findings.map(({ detail }) => detail),
    ...around(result.cautions),
  };
};

const stockWords = async (gathering: Gathering, stock: StockBody): Promise<string> => {
  if (stock.from !== 'preparation') return stock.name;
  const stored = await findPreparation(gathering.db, stock.preparationId);
  return stored ? `${stored.number} ${stored.title}` : 'the stock';
};

const dilutionContent = async (gathering: Gathering, body: DilutionBody): Promise<BenchContent> => {
  const { result } = await solve(gathering, body);
  const tags = new Map(
    result.vessels.map(({ vesselId, tag, nominalMl }) => [vesselId, { tag, ml: String(nominalMl) }]),
  );
  const named = ({ vesselId, pointMl }: VesselAtMark): AtMark => {
    const { tag, ml } = tags.get(vesselId) ?? { tag: vesselId, ml: '' };
    return { tag, ml: pointMl ?? ml };
  };
  const source = await stockWords(gathering, body.stock);
  const steps = body.steps.map(({ deliveries, madeUpIn }) => ({
    deliveries: deliveries.map(named),
    madeUpIn: named(madeUpIn),
  }));
  const { temperatureC } = body;
  return {
    title: `${source}, diluted`,
    way: steps.length === 1 ? 'a dilution' : `a dilution in ${steps.length} steps`,
    facts: [[['Stock', source]], foreseenFacts(result, temperatureC)],
    works: [
      {
        heading: null,
        steps: transferSteps({
          ...{ steps, source, temperatureC, cautions: result.cautions },
          foreseen: result.steps ?? [],
        }),
      },
    ],
    titrations: null,
    findings: result.findings.map(({ detail }) => detail),
    ...around(result.cautions),
  };
};

const seriesContent = async (
  gathering: Gathering,
  body: SeriesBody,
  by: { actor: string; now: Date },
): Promise<BenchContent> => {
  const { stock, solutions } = await seriesFor(gathering, body, by);
  const source = await stockWords(gathering, body.stock);
  const cautions = cautionsFor('dilution', []);
  const at = ({ tag, pointMl }: { tag: string; pointMl: string }): AtMark => ({ tag, ml: pointMl });
  const works = solutions.map(({ target, steps, from }) => {
    // The steps up to the solution it starts from were done for that one.
    const own = steps.slice(from === null ? 0 : (solutions[from]?.steps.length ?? 0));
    return {
      heading: `${target} ${stock.unit}`,
      steps: transferSteps({
        steps: own.map(({ deliveries, madeUpIn }) => ({ deliveries: deliveries.map(at), madeUpIn: at(madeUpIn) })),
        source: from === null ? source : `the solution of ${solutions[from]?.target ?? ''} ${stock.unit}`,
        ...{ temperatureC: body.temperatureC, cautions, foreseen: [] },
      }),
    };
  });
  const unmade = solutions.filter(({ steps }) => steps.length === 0).map(({ target }) => `${target} ${stock.unit}`);
  return {
    title: `Series from ${source}`,
    way: 'a series of dilutions',
    facts: [
      [['Stock', `${source}, ${significant(stock.value, 4)} ${stock.unit}`]],
      [['Made up at', `${body.temperatureC} °C`]],
    ],
    works,
    titrations: null,
    findings: unmade.map((one) => `${one}: the ware of the register does not make it.`),
    ...around(cautions),
  };
};

/** The standard of a titration in words, with what is minded about it. */
const standardOf = async (
  gathering: Gathering,
  { standard }: StandardisationPlan,
): Promise<{ name: string; cautions: readonly Caution[] }> => {
  if (standard.from === 'preparation') {
    const found = await gathering.preparation(standard.preparationId, '#/standard/preparationId');
    return { name: found ? `${found.stored.number} ${found.stored.title}` : '', cautions: [] };
  }
  const { name, formula } = standard.substance;
  return { name, cautions: await cautionsOf(gathering, formula, '#/standard/substance/formula') };
};

const cautionsOf = async (
  gathering: Gathering,
  formula: string | undefined,
  pointer: string,
): Promise<readonly Caution[]> => {
  if (formula === undefined) return [];
  await gathering.formula(formula, pointer);
  const read = await readFormula(formula);
  return 'refused' in read ? [] : (knownSubstance(read.formula)?.cautions ?? []);
};

const standardisationContent = async (gathering: Gathering, body: StandardisationPlan): Promise<BenchContent> => {
  const isWeighed = body.standard.from === 'solid';
  const standard = await standardOf(gathering, body);
  const titrantCautions = await cautionsOf(gathering, body.titrant.formula, '#/titrant/formula');
  const scaleMl = Number((await findVessel(gathering.db, body.buretteId))?.nominalVolumeMl ?? 0);
  await gathering.burette(body.buretteId, 0, scaleMl, '#');
  if (isWeighed) await stepOfBalance(gathering, body.balanceId);
  else if (body.pipette) await gathering.vesselAt(body.pipette, 'deliver', '#/pipette');
  else gathering.refuse('#/pipette/vesselId', 'The pipette of the standard solution is missing.');
  gathering.settle();
  const [burette, pipette] = ['titrated', 'delivered'].map((use) => {
    const used = gathering.vessels.find((one) => one.use === use);
    return used && { tag: used.tag, ml: String(used.nominalMl) };
  });
  const cautions = cautionsFor('standardisation', [...standard.cautions, ...titrantCautions]);
  const titrant = body.titrant.name;
  return {
    title: `${titrant}, standardised`,
    way: `against ${standard.name}`,
    facts: [
      [
        ['Titrant', [titrant, body.titrant.formula].filter(Boolean).join(', ')],
        ['Standard', standard.name],
      ],
      [
        ['Burette', burette ? `${burette.tag}, ${burette.ml} mL` : ''],
        ...(pipette ? [['Pipette', `${pipette.tag}, ${pipette.ml} mL`] as Fact] : []),
        ['Ratio', `${body.molesPerMole} mol of titrant for 1 mol of the standard`],
      ],
    ],
    works: [
      {
        heading: null,
        steps: burette
          ? titrationSteps({ burette, titrant, standard: standard.name, pipette: pipette ?? null, cautions })
          : [],
      },
    ],
    titrations: {
      heads: [...(isWeighed ? ['Standard g'] : []), 'Burette before mL', 'Burette after mL'],
      rows: body.replicates,
    },
    findings: gathering.findings.map(({ detail }) => detail),
    ...around(cautions),
  };
};

const contentOf = (
  gathering: Gathering,
  { plan }: BenchSheetBody,
  by: { actor: string; now: Date },
): Promise<BenchContent> => {
  switch (plan.way) {
    case 'solid':
      return solidContent(gathering, plan);
    case 'dilution':
      return dilutionContent(gathering, plan);
    case 'standardisation':
      return standardisationContent(gathering, plan);
    case 'series':
      return seriesContent(gathering, plan, by);
  }
};

/** @throws Problem with every field of the plan that cannot be taken */
export const benchSheet = async (
  gathering: Gathering,
  body: BenchSheetBody,
  by: { actor: string; now: Date },
): Promise<BenchSheetInput> => ({
  ...(await summaryHead(gathering.db, by.now)),
  ...(await contentOf(gathering, body, by)),
  sheet: body.paper,
});

export const setBenchSheet = (input: BenchSheetInput): Promise<Buffer> => makePdf({ kind: 'bench-sheet', input });
