/** A table of Z factors for the laboratory's own pressure, to print and hang beside the balance. */
import { useState } from 'react';
import { airDensityKgPerM3 } from '../../../server/metrology/air-density.ts';
import { massToVolumeFactor } from '../../../server/metrology/volume.ts';
import { waterDensityKgPerM3 } from '../../../server/metrology/water-density.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { Field } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { fixed } from '../../parts/rounding.ts';
import { useLaboratory } from '../../queries.ts';
import { RoomHeader, WideTable } from './parts.tsx';

const words = referenceText.factors;
const HUMIDITY_PERCENT = 50;
const SEA_LEVEL_HPA = 1013.25;
const STEPS_HPA = [-20, -10, 0, 10, 20];
const LOWEST_HPA = 620;
const HIGHEST_HPA = 1080;
/** 15 to 30 °C in half degrees. */
const TEMPERATURES_C = Array.from({ length: 31 }, (_, index) => 15 + index / 2);

/** mL of water at its temperature for each gram displayed, air as warm as the water. */
export const zFactor = (temperatureC: number, pressureHpa: number): number =>
  massToVolumeFactor(waterDensityKgPerM3(temperatureC), airDensityKgPerM3(temperatureC, pressureHpa, HUMIDITY_PERCENT));

export function FactorsPage() {
  const own = useLaboratory().data?.standardPressureHpa ?? SEA_LEVEL_HPA;
  const [typed, setTyped] = useState<string | null>(null);
  const shown = typed ?? fixed(own, 1);
  const read = readNumber(shown, 'hPa');
  const value = read.ok ? Number(read.value) : Number.NaN;
  const possible = value >= LOWEST_HPA && value <= HIGHEST_HPA;
  const problem = read.ok ? (possible ? undefined : words.outside(LOWEST_HPA, HIGHEST_HPA)) : read.problem;
  return (
    <>
      <RoomHeader room="factors" lead={words.lead} />
      <div className="stack">
        <div className="no-print">
          <Field
            name="pressure"
            label={words.pressure}
            help={words.pressureHelp}
            unit="hPa"
            number
            value={shown}
            onChange={setTyped}
            problem={problem}
          />
        </div>
        {possible && <FactorTable pressureHpa={value} />}
      </div>
    </>
  );
}

function FactorTable({ pressureHpa }: { pressureHpa: number }) {
  const pressures = STEPS_HPA.map((step) => pressureHpa + step);
  return (
    <WideTable caption={words.caption(fixed(pressureHpa, 1))}>
      <thead>
        <tr>
          <th scope="col" className="number">
            {words.temperature}
          </th>
          {pressures.map((pressure) => (
            <th key={pressure} scope="col" className="number">
              {words.column(fixed(pressure, 1))}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {TEMPERATURES_C.map((temperature) => (
          <tr key={temperature}>
            <th scope="row" className="number">
              {fixed(temperature, 1)}
            </th>
            {pressures.map((pressure) => (
              <td key={pressure} className="number">
                {fixed(zFactor(temperature, pressure), 5)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}
