import type { ReactNode } from 'react';
import type { Calibration, TrialOnWire } from '../../../server/calibrations/contract.ts';
import { WEIGHTS_DENSITY } from '../../../server/metrology/constants.ts';
import { expansionPerK, MATERIAL_FACTS } from '../../../server/metrology/materials.ts';
import { SOURCES, type SourceKey } from '../../../server/metrology/sources.ts';
import { text } from '../../messages/en.ts';
import { workingText } from '../../messages/en-working.ts';
import { decimalsOf, fixed, scientific, withTrueMinus } from '../../parts/rounding.ts';

const words = workingText;

const citation = (key: SourceKey): string => {
  if (key === 'common-practice') return words.commonPractice;
  const { authors, year, place } = SOURCES[key];
  const first = authors.split(',')[0] ?? authors;
  return `${first} ${year}, ${place}`;
};

/** How a volume came about: the formula with the numbers put in, each part with its source, simple division beside it. */
export default function Working({ calibration, trial }: { calibration: Calibration; trial: TrialOnWire }) {
  const decimals = decimalsOf(trial.used.filledG);
  const waterC = trial.corrected.waterTemperatureC;
  const referenceC = calibration.vessel.referenceTemperatureC;
  const expansion = expansionPerK(calibration.vessel);
  const warmth = waterC - Number(referenceC);
  const factor = trial.volumeMl / trial.massG / (1 - expansion.value * warmth);
  return (
    <section aria-label={words.title(trial.number)} className="working">
      <p className="working-formula" translate="no">
        V = m · (1 − ρ<sub>a</sub>/ρ<sub>b</sub>) / (ρ<sub>w</sub> − ρ<sub>a</sub>) · (1 − γ (t − t<sub>0</sub>))
      </p>
      <p className="working-line" translate="no">
        <b>{fixed(trial.volumeMl, decimals)} mL</b> = {fixed(trial.massG, decimals)} g × {factor.toFixed(6)} mL/g × (1 −{' '}
        {scientific(expansion.value)} /K × {fixed(warmth, Math.max(1, decimalsOf(trial.used.waterTemperatureC)))} K)
      </p>
      <dl className="working-parts">
        <MassPart trial={trial} decimals={decimals} />
        <DensityParts trial={trial} />
        <Part name={words.weights} value="8.0 g/mL" how={words.weightsIs} source={citation(WEIGHTS_DENSITY.source)} />
        <Part
          name={words.expansion}
          value={`${scientific(expansion.value)} /K`}
          how={
            expansion.origin === 'typed'
              ? words.expansionTyped
              : `${text.words.materials[calibration.vessel.material]}, ${words.expansionFrom(fixed(waterC, 2), referenceC)}`
          }
          source={materialSource(calibration)}
        />
        <SimplePart trial={trial} decimals={decimals} />
      </dl>
    </section>
  );
}

function MassPart({ trial, decimals }: { trial: TrialOnWire; decimals: number }) {
  const isCorrected =
    trial.corrected.filledG !== Number(trial.used.filledG) || trial.corrected.emptyG !== Number(trial.used.emptyG);
  return (
    <Part
      name={words.mass}
      value={`${fixed(trial.massG, decimals)} g`}
      how={
        <>
          {withTrueMinus(trial.used.filledG)} g − {withTrueMinus(trial.used.emptyG)} g
          {isCorrected &&
            `; ${words.correctedReadings(fixed(trial.corrected.filledG, decimals + 1), fixed(trial.corrected.emptyG, decimals + 1))}`}
          {trial.evaporationG > 0 && `; ${words.evaporation(trial.evaporationG.toFixed(decimals + 1))}`}
        </>
      }
    />
  );
}

function DensityParts({ trial }: { trial: TrialOnWire }) {
  const { temperatureC, pressureHpa, relativeHumidityPercent, measured } = trial.air;
  const isAssumed = !(measured.temperature && measured.pressure && measured.humidity);
  const air = words.airAt(fixed(temperatureC, 2), fixed(pressureHpa, 1), fixed(relativeHumidityPercent, 0));
  return (
    <>
      <Part
        name={words.waterDensity}
        value={`${trial.waterDensityGPerMl.toFixed(6)} g/mL`}
        how={words.waterAt(fixed(trial.corrected.waterTemperatureC, 2))}
        source={citation('tanaka-2001')}
      />
      <Part
        name={words.airDensity}
        value={`${trial.airDensityGPerMl.toFixed(6)} g/mL`}
        how={isAssumed ? `${air} (${words.assumedAir})` : air}
        source={citation('cipm-2007')}
      />
    </>
  );
}

function SimplePart({ trial, decimals }: { trial: TrialOnWire; decimals: number }) {
  const difference = trial.simpleVolumeMl - trial.volumeMl;
  const shown = fixed(Math.abs(difference), decimals);
  const compared = difference < 0 ? words.less(shown) : difference > 0 ? words.more(shown) : words.same;
  return (
    <Part
      name={words.simple}
      value={`${fixed(trial.simpleVolumeMl, decimals)} mL`}
      how={`${words.simpleIs}: ${compared}`}
    />
  );
}

interface PartProps {
  name: string;
  value: string;
  how: ReactNode;
  source?: string;
}

function Part({ name, value, how, source }: PartProps) {
  return (
    <div className="working-part">
      <dt>{name}</dt>
      <dd>
        <span className="working-value">{value}</span>
        <span className="working-how">
          {how}
          {source && <cite className="working-source">{source}</cite>}
        </span>
      </dd>
    </div>
  );
}

const materialSource = (calibration: Calibration): string => {
  const { expansionPerK: typed, material } = calibration.vessel;
  const constant = MATERIAL_FACTS[material].expansion;
  return typed !== null || constant === null ? '' : citation(constant.source);
};
