import { useState } from 'react';
import { MENISCUS_RULES, type MeniscusRule } from '../../../server/metrology/record.ts';
import { practiceText } from '../../messages/en-practice.ts';
import { Field } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { fixed } from '../../parts/rounding.ts';
import { eyeDrawing, hollowLiquid, neckVolumeMl, parallaxMm, type EyeHeight } from '../../plots/meniscus.ts';
import { CalculatedResults } from './calculator.tsx';
import { RoomHeader, Statements } from './parts.tsx';

const words = practiceText.meniscus;
const EYES: readonly EyeHeight[] = ['level', 'high', 'low'];

export function MeniscusPage() {
  return (
    <>
      <RoomHeader room="meniscus" lead={words.lead} />
      <Section title={words.eyeTitle}>
        <ul className="plain drawings">
          {EYES.map((height) => (
            <li key={height}>
              <EyePicture height={height} />
              <h3>{words.eyeShort[height]}</h3>
              <p>{words.eye[height]}</p>
            </li>
          ))}
        </ul>
      </Section>
      <Section title={words.ruleTitle}>
        <ul className="plain drawings">
          {MENISCUS_RULES.map((rule) => (
            <li key={rule}>
              <RulePicture rule={rule} />
              <p>{words.rules[rule]}</p>
            </li>
          ))}
        </ul>
        <p className="measure">{words.ruleKeep}</p>
      </Section>
      <Section title={words.costTitle}>
        <CostCalculator />
      </Section>
      <Section title={words.howTitle}>
        <Statements of={words.how} />
      </Section>
    </>
  );
}

/** A neck cut lengthwise, with the line of sight. */
function EyePicture({ height }: { height: EyeHeight }) {
  const { width, height: tall, walls, markY, lowest, eye, liquid } = eyeDrawing(height);
  return (
    <svg className="drawing" viewBox={`0 0 ${width} ${tall}`} role="img" aria-label={words.drawing[height]}>
      <path className="drawing-liquid" d={liquid} />
      <path className="drawing-glass" d={`M${walls.left} 0V${tall}M${walls.right} 0V${tall}`} />
      <path
        className="drawing-mark"
        d={`M${walls.left - 12} ${markY}H${walls.left + 8}M${walls.right - 8} ${markY}H${walls.right + 12}`}
      />
      <path className="drawing-mark drawing-behind" d={`M${walls.left + 8} ${markY}H${walls.right - 8}`} />
      <path
        className="drawing-sight"
        d={`M${eye.x - 12} ${sightAt(eye, lowest, eye.x - 12)}L${lowest.x} ${lowest.y}`}
      />
      <circle className="drawing-lowest" cx={lowest.x} cy={lowest.y} r="4" />
      <Eye x={eye.x} y={eye.y} />
    </svg>
  );
}

const sightAt = (eye: { x: number; y: number }, lowest: { x: number; y: number }, x: number): number =>
  eye.y + ((lowest.y - eye.y) * (x - eye.x)) / (lowest.x - eye.x);

function Eye({ x, y }: { x: number; y: number }) {
  return (
    <>
      <path
        className="drawing-eye"
        d={`M${x - 12} ${y}Q${x + 4} ${y - 15} ${x + 20} ${y}Q${x + 4} ${y + 15} ${x - 12} ${y}Z`}
      />
      <circle className="drawing-pupil" cx={x - 1} cy={y} r="4.5" />
    </>
  );
}

/** The line much enlarged, so that its two edges can be told apart. */
const LINE = { top: 84, bottom: 112 };

function RulePicture({ rule }: { rule: MeniscusRule }) {
  const lowestY = rule === 'upper-edge' ? LINE.top : (LINE.top + LINE.bottom) / 2;
  return (
    <svg className="drawing" viewBox="0 0 300 160" role="img" aria-label={words.ruleDrawing[rule]}>
      <path className="drawing-liquid" d={hollowLiquid(40, 260, lowestY, 44, 160)} />
      <rect className="drawing-line" x="24" width="252" y={LINE.top} height={LINE.bottom - LINE.top} />
      <path className="drawing-glass" d="M40 0V160M260 0V160" />
      <circle className="drawing-lowest" cx="150" cy={lowestY} r="4.5" />
      <path className="drawing-sight" d={`M150 ${lowestY}H292`} />
    </svg>
  );
}

/** Flask of 100 mL, ISO 1042:1998 class A. */
const FLASK_TOLERANCE_ML = 0.1;
const LARGEST_ANGLE = 45;

type Typed = Record<'diameter' | 'offset' | 'angle', string>;

function readAll(typed: Typed) {
  const diameter = readNumber(typed.diameter, 'mm');
  const offset = readNumber(typed.offset, 'mm');
  const angle = readNumber(typed.angle);
  const value = (read: ReturnType<typeof readNumber>) => (read.ok ? Number(read.value) : NaN);
  const numbers = { diameter: value(diameter), offset: value(offset), angle: value(angle) };
  const problems: Partial<Typed> = {
    ...(numbers.diameter <= 0 ? { diameter: words.aboveZero } : {}),
    ...(numbers.offset < 0 ? { offset: words.notNegative } : {}),
    ...(numbers.angle < 0 || numbers.angle > LARGEST_ANGLE ? { angle: words.angleRange } : {}),
    ...(diameter.ok ? {} : { diameter: diameter.problem }),
    ...(offset.ok ? {} : { offset: offset.problem }),
    ...(angle.ok ? {} : { angle: angle.problem }),
  };
  return { numbers, problems };
}

/** How much half a line, or a slanting look, is in a neck of this width. */
function CostCalculator() {
  const [typed, setTyped] = useState<Typed>({ diameter: '12', offset: '0.15', angle: '10' });
  const { numbers, problems } = readAll(typed);
  const field = (name: keyof Typed, unit: string) => ({
    name: `meniscus-${name}`,
    label: words[name],
    unit,
    number: true,
    value: typed[name],
    problem: problems[name],
    onChange: (value: string) => setTyped((before) => ({ ...before, [name]: value })),
  });
  const isReady = Object.keys(problems).length === 0;
  return (
    <div className="calculator card">
      <div className="calculator-fields">
        <Field {...field('diameter', 'mm')} />
        <Field {...field('offset', 'mm')} />
        <Field {...field('angle', '°')} />
      </div>
      <CalculatedResults results={isReady ? costs(numbers) : []} />
      <p className="quiet small">{words.ofTolerance}</p>
    </div>
  );
}

function costs({ diameter, offset, angle }: Record<keyof Typed, number>) {
  const share = (volumeMl: number) => `${fixed((100 * volumeMl) / FLASK_TOLERANCE_ML, 0)} %`;
  const byOffset = neckVolumeMl(diameter, offset);
  const byAngle = neckVolumeMl(diameter, parallaxMm(diameter, angle));
  const result = (label: string, volumeMl: number) => ({
    label,
    value: fixed(volumeMl, 3),
    unit: 'mL',
    sub: words.share(share(volumeMl)),
  });
  return [result(words.offsetCost, byOffset), result(words.angleCost, byAngle)];
}
