import { Link } from 'wouter';
import { airDensityKgPerM3 } from '../../../server/metrology/air-density.ts';
import { subtractDecimals } from '../../../server/metrology/decimal.ts';
import { MATERIAL_FACTS } from '../../../server/metrology/materials.ts';
import { VERSIONS } from '../../../server/metrology/versions.ts';
import { expansionFactor, massToVolumeFactor, simpleVolumeMl } from '../../../server/metrology/volume.ts';
import { waterDensityKgPerM3 } from '../../../server/metrology/water-density.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { PageHeader } from '../../parts/page.tsx';
import { fixed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import type { StripData } from '../../plots/tolerance-strip.ts';
import { ROOM_GROUPS } from './data.ts';

export function Overview() {
  return (
    <>
      <PageHeader title={referenceText.back} lead={referenceText.lead} />
      <WorkedTrial />
      <div className="reference-groups">
        {ROOM_GROUPS.map(({ group, rooms }) => (
          <section key={group}>
            <h2>{referenceText.groups[group]}</h2>
            <ul className="plain">
              {rooms.map((room) => (
                <li key={room}>
                  <Link href={`/${room}`}>{referenceText.rooms[room].title}</Link>
                  <p>{referenceText.rooms[room].line}</p>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
      <p className="quiet small">{Object.values(VERSIONS).join(' · ')}</p>
    </>
  );
}

/** Invented readings of a 100 mL flask of borosilicate glass. */
const TRIAL = { emptyG: '61.2034', filledG: '160.8371', waterC: 21.3, airC: 21.8, pressureHpa: 992.5, humidity: 48 };
const REFERENCE_C = 20;

function workOut() {
  const mass = subtractDecimals(TRIAL.filledG, TRIAL.emptyG);
  const air = airDensityKgPerM3(TRIAL.airC, TRIAL.pressureHpa, TRIAL.humidity);
  const factor = massToVolumeFactor(waterDensityKgPerM3(TRIAL.waterC), air);
  const expansion = MATERIAL_FACTS['borosilicate-3.3'].expansion?.value ?? 0;
  const glass = expansionFactor(expansion, TRIAL.waterC, REFERENCE_C);
  const volumeMl = mass.number * factor * glass;
  const simpleMl = simpleVolumeMl(mass.number);
  return { mass: mass.text, factor, glass, volumeMl, simpleMl };
}

const WORKED = workOut();
/** The tolerance of ISO 1042:1998 class A, and the one trial in it. */
const STRIP: StripData = {
  nominalMl: 100,
  toleranceMl: 0.1,
  volumesMl: [WORKED.volumeMl],
  meanMl: WORKED.volumeMl,
  simpleMeanMl: WORKED.simpleMl,
};

/** The one equation everything here leads to, with numbers in it; each number is a way in. */
function WorkedTrial() {
  const words = referenceText.worked;
  const { mass, factor, glass, volumeMl, simpleMl } = WORKED;
  return (
    <section className="worked">
      <h2>{words.title}</h2>
      <p className="quiet">{words.lead}</p>
      <div className="worked-line">
        <Part id="volume" value={fixed(volumeMl, 4)} unit="mL" label={words.volume} />
        <span className="worked-sign">=</span>
        <Part id="mass" value={mass} unit="g" label={words.mass} />
        <span className="worked-sign">×</span>
        <Part id="z-factor" value={fixed(factor, 6)} unit="mL/g" label={words.factor} />
        <span className="worked-sign">×</span>
        <Part id="volume-in-use" value={fixed(glass, 6)} unit="" label={words.glass} />
      </div>
      <ToleranceStrip data={STRIP} height={96} verdict={null} />
      <p>
        <Link href="/formulas/simple-volume" className="lone-link">
          {words.simple(fixed(simpleMl, 4), fixed(volumeMl - simpleMl, 3))}
        </Link>
      </p>
    </section>
  );
}

function Part({ id, value, unit, label }: { id: string; value: string; unit: string; label: string }) {
  return (
    <Link href={`/formulas/${id}`} className="worked-part">
      <span className="worked-value">
        {value}
        {unit && <span className="quantity-unit"> {unit}</span>}
      </span>
      <span className="worked-label">{label}</span>
    </Link>
  );
}
