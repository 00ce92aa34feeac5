import { useQueries, useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import type { ClassData } from '../../../server/experiments/contract-class.ts';
import type { ToleranceRowOnWire } from '../../../server/reference/contract.ts';
import { crossed } from '../../../server/metrology/class/crossed.ts';
import { crossedCells, type VolumeChoice } from '../../../server/metrology/class/weighed.ts';
import { get, withQuery } from '../../api.ts';
import { numbersText as words } from '../../messages/en-numbers.ts';
import { runText, teachingText } from '../../messages/en-teaching.ts';
import { Choice } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { keys } from '../../queries.ts';
import { toleranceRowsOf } from '../../tolerance-rows.ts';
import { ChooseSection } from './choose.tsx';
import { shownRows, type Scale } from './class-rows.ts';
import { CrossedSection } from './crossed.tsx';
import { classKeys } from './data.ts';
import { EarlierSection } from './earlier.tsx';
import { RowNumbers } from './row-numbers.tsx';

/** Bias, spread and what they are made of, row by row; what to take; hands against vessels. */
export function NumbersPage({ id }: { id: string }) {
  const data = useQuery({
    queryKey: [...classKeys.one(id), 'data'],
    queryFn: ({ signal }) => get<ClassData>(`/api/experiments/${id}/data`, signal),
    refetchInterval: ({ state }) => (state.data?.state === 'open' ? 10_000 : false),
  });
  return (
    <Loaded query={data} what={words.what}>
      {(loaded) => (
        <>
          <PageHeader
            title={words.title}
            lead={words.lead}
            within={{ href: `/${id}`, label: loaded.title || teachingText.within }}
          />
          {loaded.madeUp && <Notice>{runText.madeUp}</Notice>}
          {loaded.trials.length === 0 ? <p>{words.noTrials}</p> : <Numbers data={loaded} />}
        </>
      )}
    </Loaded>
  );
}

/** Limits of every kind the class weighed. */
function useLimits(data: ClassData) {
  const kinds = [...new Set(data.rows.map(({ kind }) => kind))];
  return useQueries({
    queries: kinds.map((kind) => ({
      queryKey: keys.tolerances(kind),
      queryFn: () => get<{ items: ToleranceRowOnWire[] }>(withQuery('/api/reference/tolerances', { kind })),
      staleTime: Infinity,
    })),
    combine: (results) => results.flatMap(({ data: table }) => table?.items ?? []),
  });
}

function Numbers({ data }: { data: ClassData }) {
  const [kind, setKind] = useState<VolumeChoice>('corrected');
  const [scale, setScale] = useState<Scale>('mL');
  const limits = useLimits(data);
  const rows = useMemo(() => shownRows(data, toleranceRowsOf(limits), kind), [data, limits, kind]);
  return (
    <>
      <div className="row class-switches no-print">
        <Choice
          name="volumes"
          label={words.volumes}
          value={kind}
          options={(['corrected', 'simple'] as const).map((value) => ({ value, label: words.kinds[value] }))}
          onChange={setKind}
        />
        <Choice
          name="scale"
          label={words.scale}
          value={scale}
          options={(['mL', 'percent'] as const).map((value) => ({ value, label: words.scales[value] }))}
          onChange={setScale}
        />
      </div>
      <p className="quiet measure">{balanceWords(data)}</p>
      {rows.map((row) => (
        <RowNumbers key={row.ware.key} shown={row} data={data} scale={scale} />
      ))}
      <p className="quiet measure class-accuracy">{words.accuracy}</p>
      {data.design === 'crossed' && <CrossedSection result={crossed(crossedCells(data, kind))} />}
      <ChooseSection rows={rows} />
      {kind === 'corrected' && !data.madeUp && <EarlierSection id={data.id} rows={rows} />}
    </>
  );
}

/** Whether the readings are corrected as the certificate of their balance says. */
const balanceWords = ({ balances }: ClassData): string => {
  const [first, ...others] = balances;
  if (first === undefined || others.length > 0) return words.balances.several(balances.map(({ label }) => label));
  return first.corrects ? words.balances.corrected(first.label) : words.balances.uncorrected(first.label);
};
