import type { Reader, SolutionModel } from './influences.ts';
import { embed, Influences } from './influences.ts';
import { takeMolarMass } from './substance.ts';
import type { AtomCount } from './substance.ts';
import type { ConcentrationUnit } from './solid.ts';
import { takeTemperature, takeVolume, temperatureFactor } from './vessel-in-use.ts';
import type { LiquidTemperature, SolutionExpansion, VesselInUse } from './vessel-in-use.ts';

/** What is diluted. */
export type Stock =
  | {
      known: 'concentration';
      key: string;
      value: number;
      unit: ConcentrationUnit;
      standardUncertainty: number;
      degreesOfFreedom: number | null;
    }
  /** A bottle with density and mass fraction on its label, both within a half-width. */
  | {
      known: 'density';
      key: string;
      atoms: readonly AtomCount[];
      densityGPerMl: number;
      densityHalfWidth: number;
      massFraction: number;
      massFractionHalfWidth: number;
    }
  /** A solution whose own model is known: what it shares with this one acts once. */
  | { known: 'model'; key: string; model: SolutionModel };

/** One dilution: a vessel delivered once or more into one made up to its mark. */
export interface DilutionStep {
  deliveries: readonly VesselInUse[];
  madeUpIn: VesselInUse;
}

export interface Dilution {
  stock: Stock;
  steps: readonly DilutionStep[];
  temperature: LiquidTemperature;
  expansion: SolutionExpansion;
  /** Temperature the concentrations are quoted at, °C. */
  quotedC: number;
  /** Temperature the stock's is quoted at, °C; that of filling where left out. */
  stockQuotedC?: number;
}

function takeStock(influences: Influences, stock: Stock): Reader {
  if (stock.known === 'model') return embed(influences, stock.model, stock.key);
  if (stock.known === 'concentration') {
    return influences.take({
      key: `${stock.key}:concentration`,
      label: 'concentration of the stock',
      value: stock.value,
      unit: stock.unit,
      shape: 'normal',
      spread: stock.standardUncertainty,
      degreesOfFreedom: stock.degreesOfFreedom,
      source: 'its own result',
      assumed: false,
    });
  }
  const label = {
    shape: 'rectangular',
    degreesOfFreedom: null,
    source: 'label of the bottle',
    assumed: false,
  } as const;
  const density = influences.take({
    ...label,
    key: `${stock.key}:density`,
    label: 'density of the stock',
    value: stock.densityGPerMl,
    unit: 'g/mL',
    spread: stock.densityHalfWidth,
  });
  const fraction = influences.take({
    ...label,
    key: `${stock.key}:mass-fraction`,
    label: 'mass fraction of the stock',
    value: stock.massFraction,
    unit: '1',
    spread: stock.massFractionHalfWidth,
  });
  const mass = takeMolarMass(influences, stock.atoms);
  return (values) => (1000 * density(values) * fraction(values)) / mass(values);
}

/** Concentration of the stock at the temperature it is measured out at. */
function asPoured(dilution: Dilution, stock: Reader, temperature: Reader): Reader {
  if (dilution.stockQuotedC === undefined) return stock;
  const quoted = temperatureFactor(dilution.expansion, temperature, dilution.stockQuotedC);
  return (values) => stock(values) / quoted(values);
}

/** Unit of what comes out: that of the stock, mol/L from density and mass fraction. */
export function dilutedUnit(stock: Stock): ConcentrationUnit {
  if (stock.known === 'density') return 'mol/L';
  return stock.known === 'concentration' ? stock.unit : (stock.model.unit as ConcentrationUnit);
}

/**
 * The concentration of a stock by itself, before anything is diluted.
 * @throws RangeError for an element without a standard atomic weight
 * @source eurachem-cg-4-2012, appendix E.2
 */
export function stockModel(stock: Stock): SolutionModel {
  const influences = new Influences();
  const output = takeStock(influences, stock);
  return { unit: dilutedUnit(stock), influences: influences.list, output };
}

/**
 * Concentration after one or more dilutions, c₀·Π(ΣV_delivered/V_made up). A vessel used in several steps, or several
 * times in one, errs the same way each time; its single fillings differ.
 * @returns the models after each step, the last one the result
 * @throws RangeError without a step, or for a step without a delivery
 * @source eurachem-cg-4-2012, A1 and appendix E.2; jcgm-100-2008, 5.2.2 and F.1.2.3 (what is shared is correlated)
 */
export function dilutionModels(dilution: Dilution): SolutionModel[] {
  const { stock, steps, expansion, quotedC } = dilution;
  if (steps.length === 0) throw new RangeError('a dilution needs a step');
  const influences = new Influences();
  const stockReader = takeStock(influences, stock);
  const temperature = takeTemperature(influences, dilution.temperature);
  const quoted = temperatureFactor(expansion, temperature, quotedC);
  const unit = dilutedUnit(stock);
  let before = asPoured(dilution, stockReader, temperature);
  return steps.map((step, index) => {
    if (step.deliveries.length === 0) throw new RangeError('a step needs a delivery');
    const delivered = step.deliveries.map((vessel, time) =>
      takeVolume(influences, vessel, `step ${index + 1}:delivery ${time + 1}`, temperature),
    );
    const madeUp = takeVolume(influences, step.madeUpIn, `step ${index + 1}:mark`, temperature);
    const from = before;
    const after: Reader = (values) => {
      let volume = 0;
      for (const reader of delivered) volume += reader(values);
      return (from(values) * volume) / madeUp(values);
    };
    before = after;
    return { unit, influences: influences.list, output: (values) => after(values) * quoted(values) };
  });
}
