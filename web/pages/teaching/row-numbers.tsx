import { useState } from 'react';
import type { ClassData } from '../../../server/experiments/contract-class.ts';
import { explainRow, explainShare, type ClassExplanation } from '../../../server/metrology/class/explain-class.ts';
import type { LimitFigures, RowFigures } from '../../../server/metrology/class/figures.ts';
import type { Explanation } from '../../../server/metrology/explain.ts';
import { numbersText as words } from '../../messages/en-numbers.ts';
import { ExplainedNode } from '../../parts/explanation-tree.tsx';
import { KindMark } from '../../parts/kind-mark.tsx';
import { Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsForTolerance, decimalsForUncertainty, fixed, signed, significant } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { UnfoldButton } from '../../parts/unfold.tsx';
import type { Scale, ShownRow } from './class-rows.ts';
import { nameOf } from './groups.tsx';

type NumberName = keyof ClassExplanation;

interface RowProps {
  shown: ShownRow;
  data: ClassData;
  scale: Scale;
}

/** One row: its picture, what it is off and apart by, its limits, and what stands out. */
export function RowNumbers({ shown, data, scale }: RowProps) {
  const { ware, row, figures, excludedMl } = shown;
  const [open, setOpen] = useState<NumberName | number | null>(null);
  const opened = open === null ? null : openedNode(shown, open);
  const limit = figures.limits.find(({ toleranceMl }) => toleranceMl === ware.toleranceMl) ?? figures.limits[0];
  return (
    <Section
      title={ware.label}
      aside={
        <span className="quiet small class-ware">
          <KindMark kind={ware.kind} /> {words.weighed[ware.basis]}
        </span>
      }
    >
      {figures.n === 0 ? (
        <p className="quiet">{words.noRow}</p>
      ) : (
        <>
          <ToleranceStrip
            data={{
              nominalMl: figures.nominalMl,
              toleranceMl: ware.toleranceMl ?? limit?.toleranceMl ?? null,
              volumesMl: row.groups.flatMap(({ trialsMl }) => trialsMl),
              excludedMl,
              meanMl: figures.meanMl,
            }}
            height={96}
            verdict={null}
          />
          <FigureRow figures={figures} scale={scale} open={open} onOpen={setOpen} />
          {opened && <ExplainedNode node={opened} decimals={READING_DECIMALS} onClose={() => setOpen(null)} />}
          <Limits figures={figures} label={ware.label} onOpen={setOpen} open={open} />
          <Findings figures={figures} />
          <ByGroup figures={figures} data={data} ware={ware} />
        </>
      )}
    </Section>
  );
}

/** A class reads to a hundredth of a gram or finer; the typed text of each reading stands beside its number. */
const READING_DECIMALS = 4;

function openedNode({ row, figures, unfold }: ShownRow, open: NumberName | number): Explanation | null {
  if (typeof open !== 'number') return explainRow(row, figures, unfold)[open];
  const limit = figures.limits[open];
  return limit ? explainShare(row, limit, unfold) : null;
}

interface FigureRowProps {
  figures: RowFigures;
  scale: Scale;
  open: NumberName | number | null;
  onOpen: (open: NumberName | number | null) => void;
}

/** As many digits as the spread of one filling justifies. */
const decimalsOf = (figures: RowFigures): number => {
  const spread = figures.meanUncertaintyMl ?? figures.sdMl;
  return spread ? decimalsForUncertainty(spread) : decimalsForTolerance(figures.nominalMl / 1000);
};

function FigureRow({ figures, scale, open, onOpen }: FigureRowProps) {
  const { relative } = figures;
  const decimals = decimalsOf(figures);
  const inMl = scale === 'mL';
  const spread = (valueMl: number | null, percent: number | null): string => {
    const value = inMl ? valueMl : percent;
    if (value === null) return words.needs2;
    return value === 0 ? '0' : significant(value, 2);
  };
  const unit = inMl ? 'mL' : '%';
  const isNegative = figures.oneWay?.between?.negative === true;
  const entries: [NumberName, string, string, string][] = [
    [
      'bias',
      words.bias,
      inMl ? signed(figures.biasMl ?? 0, decimals) : signedSignificant(relative.biasPercent ?? 0),
      words.biasSub,
    ],
    ['sd', words.sd, spread(figures.sdMl, relative.sdPercent), words.sdSub],
    [
      'repeatability',
      words.repeatability,
      spread(figures.repeatabilitySdMl, relative.repeatabilityPercent),
      words.repeatabilitySub,
    ],
    [
      'between',
      words.between,
      spread(figures.betweenSdMl, relative.betweenPercent),
      isNegative ? words.betweenNegative : words.betweenSub,
    ],
    ['withinRoom', words.withinRoom, spread(figures.withinRoomSdMl, relative.withinRoomPercent), words.withinRoomSub],
  ];
  return (
    <dl className="figures class-figures">
      {entries.map(([name, label, value, sub]) => (
        <div key={name} className="figure">
          <dt>{label}</dt>
          <dd>
            <Opening name={name} value={value} unit={unit} open={open} onOpen={onOpen} />
            <span className="figure-sub">{sub}</span>
          </dd>
        </div>
      ))}
      <div className="figure">
        <dt>{words.n}</dt>
        <dd>
          {figures.n}
          <span className="figure-sub">{words.groups(figures.groups)}</span>
        </dd>
      </div>
      <div className="figure">
        <dt>{words.mean}</dt>
        <dd>
          <Opening name="mean" value={fixed(figures.meanMl ?? 0, decimals)} unit="mL" open={open} onOpen={onOpen} />
          {figures.meanUncertaintyMl !== null && (
            <span className="figure-sub">{words.uncertainty(significant(figures.meanUncertaintyMl, 2))} mL</span>
          )}
        </dd>
      </div>
    </dl>
  );
}

const signedSignificant = (value: number): string => `${value > 0 ? '+' : ''}${significant(value, 2)}`;

interface OpeningProps extends Pick<FigureRowProps, 'open' | 'onOpen'> {
  name: NumberName;
  value: string;
  unit: string;
}

function Opening({ name, value, unit, open, onOpen }: OpeningProps) {
  const isNumber = /\d$/.test(value) && value !== words.needs2;
  const quantity = <Quantity value={value} {...(isNumber ? { unit } : {})} />;
  if (!isNumber) return <span className="class-needs">{value}</span>;
  return (
    <UnfoldButton isOpen={open === name} controls="" onPress={() => onOpen(open === name ? null : name)}>
      {quantity}
    </UnfoldButton>
  );
}

interface LimitsProps extends Pick<FigureRowProps, 'figures' | 'open' | 'onOpen'> {
  /** Of the row, to tell its table from those of others. */
  label: string;
}

function Limits({ figures, label, open, onOpen }: LimitsProps) {
  if (figures.limits.length === 0) return null;
  return (
    <>
      <h3>{words.limits}</h3>
      <div className="table-box" tabIndex={0} role="region" aria-label={`${words.limits}: ${label}`}>
        <table className="table">
          <caption className="unseen">{words.limits}</caption>
          <thead>
            <tr>
              <th scope="col">{words.limit}</th>
              <th scope="col">{words.vesselAllowed}</th>
              <th scope="col">{words.fillingsWithin}</th>
            </tr>
          </thead>
          <tbody>
            {figures.limits.map((limit, index) => (
              <LimitRow key={`${limit.source} ${limit.name}`} limit={limit} index={index} open={open} onOpen={onOpen} />
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small measure">{words.limitsNote}</p>
    </>
  );
}

interface LimitRowProps extends Pick<FigureRowProps, 'open' | 'onOpen'> {
  limit: LimitFigures;
  index: number;
}

function LimitRow({ limit, index, open, onOpen }: LimitRowProps) {
  const { toleranceMl, source, vessel, fillings } = limit;
  const decimals = decimalsForTolerance(toleranceMl);
  return (
    <tr>
      <th scope="row">
        <Quantity value={`±${fixed(toleranceMl, decimals)}`} unit="mL" />
        <span className="quiet small"> {source}</span>
      </th>
      <td>{words.range(fixed(vessel.lowestMl, decimals), fixed(vessel.highestMl, decimals))}</td>
      <td>
        <UnfoldButton isOpen={open === index} controls="" onPress={() => onOpen(open === index ? null : index)}>
          {words.share(fillings.within, fillings.n)}
        </UnfoldButton>
      </td>
    </tr>
  );
}

function Findings({ figures }: { figures: RowFigures }) {
  const { findings, suspect } = figures;
  const told = findings.filter(({ code }) => code !== 'suspected-outlier');
  if (told.length === 0 && suspect === null) return null;
  return (
    <div className="stack tight">
      <h3>{words.findings}</h3>
      <ul className="stack tight">
        {told.map(({ code, detail }) => (
          <li key={code}>{detail}</li>
        ))}
        {suspect && (
          <li>
            <strong>{words.suspect.title(suspect.number, suspect.group)}</strong> {words.suspect.ask[suspect.level]}{' '}
            <span className="quiet">
              {words.suspect.with}: {biasAndSpread(figures)}; {words.suspect.without}: {biasAndSpread(suspect.without)}.
            </span>
          </li>
        )}
      </ul>
    </div>
  );
}

const biasAndSpread = ({ biasMl, sdMl }: Pick<RowFigures, 'biasMl' | 'sdMl'>): string => {
  const decimals = sdMl ? decimalsForUncertainty(sdMl) : 3;
  return `${signed(biasMl ?? 0, decimals)} mL, s ${sdMl === null ? words.needs2 : `${fixed(sdMl, decimals)} mL`}`;
};

interface ByGroupProps extends Pick<RowProps, 'data'> {
  figures: RowFigures;
  ware: ShownRow['ware'];
}

function ByGroup({ figures, data, ware }: ByGroupProps) {
  const decimals = figures.sdMl ? decimalsForUncertainty(figures.sdMl) : decimalsForTolerance(figures.nominalMl / 1000);
  const groups = new Map(data.groups.map((group) => [String(group.number), group]));
  const foreseen = new Map(
    data.predictions.filter(({ row }) => row === ware.key).map((one) => [String(one.group), one.volumeMl]),
  );
  return (
    <details className="unfold">
      <summary>{words.byGroup}</summary>
      <div className="table-box" tabIndex={0} role="region" aria-label={`${words.byGroup}: ${ware.label}`}>
        <table className="table">
          <caption className="unseen">{words.byGroup}</caption>
          <thead>
            <tr>
              {[words.group, words.predicted, words.n, words.mean, words.sd].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {figures.byGroup.map(({ key, n, meanMl, sdMl }) => {
              const group = groups.get(key);
              return (
                <tr key={key}>
                  <th scope="row">{group ? nameOf(group) : key}</th>
                  <td className="number">{foreseen.get(key) ?? ''}</td>
                  <td className="number">{n}</td>
                  <td className="number">
                    {meanMl !== null && <Quantity value={fixed(meanMl, decimals)} unit="mL" />}
                  </td>
                  <td className="number">
                    {sdMl === null ? (
                      <span className="quiet">{words.needs2}</span>
                    ) : (
                      <Quantity value={fixed(sdMl, decimals)} unit="mL" />
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </details>
  );
}
