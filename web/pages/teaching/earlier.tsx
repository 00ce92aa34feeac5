import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { EarlierClass } from '../../../server/experiments/contract-class.ts';
import type { RowFigures } from '../../../server/metrology/class/figures.ts';
import { get } from '../../api.ts';
import { numbersText } from '../../messages/en-numbers.ts';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { decimalsForUncertainty, signed, significant } from '../../parts/rounding.ts';
import { dayOf } from '../../parts/time.ts';
import type { ShownRow } from './class-rows.ts';
import { classKeys } from './data.ts';

const words = numbersText.earlier;
type Compared = Pick<RowFigures, 'n' | 'biasMl' | 'sdMl' | 'repeatabilitySdMl' | 'betweenSdMl'>;

/** Earlier classes that measured the same, beside this one, row by row. */
export function EarlierSection({ id, rows }: { id: string; rows: readonly ShownRow[] }) {
  const earlier = useQuery({
    queryKey: [...classKeys.one(id), 'earlier'],
    queryFn: ({ signal }) => get<{ items: EarlierClass[] }>(`/api/experiments/${id}/earlier`, signal),
  });
  return (
    <Section title={words.title}>
      <Loaded query={earlier} what={words.what}>
        {({ items }) =>
          items.length === 0 ? (
            <p className="quiet">{words.none}</p>
          ) : (
            rows.map((row) => <RowOverYears key={row.ware.key} shown={row} items={items} />)
          )
        }
      </Loaded>
    </Section>
  );
}

function RowOverYears({ shown, items }: { shown: ShownRow; items: readonly EarlierClass[] }) {
  const { ware, figures } = shown;
  const heads = [words.class, numbersText.n, numbersText.bias, numbersText.sd, 's_r', 's_L'];
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={`${words.title}: ${ware.label}`}>
      <table className="table">
        <caption>{ware.label}</caption>
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">{words.this}</th>
            <Cells figures={figures} />
          </tr>
          {items.map((item) => {
            const row = item.rows.find(({ key }) => key === ware.key);
            return row ? (
              <tr key={item.id}>
                <th scope="row">
                  <Link className="lone-link" href={`/${item.id}`}>
                    {item.openedAt === null ? item.title : dayOf(new Date(item.openedAt))}
                  </Link>
                </th>
                <Cells figures={row} />
              </tr>
            ) : null;
          })}
        </tbody>
      </table>
    </div>
  );
}

function Cells({ figures: { n, biasMl, sdMl, repeatabilitySdMl, betweenSdMl } }: { figures: Compared }) {
  const spread = (value: number | null): string => {
    if (value === null) return words.unknown;
    return value === 0 ? '0' : `${significant(value, 2)} mL`;
  };
  return (
    <>
      <td className="number">{n}</td>
      <td className="number">
        {biasMl === null ? words.unknown : `${signed(biasMl, sdMl ? decimalsForUncertainty(sdMl) : 3)} mL`}
      </td>
      <td className="number">{spread(sdMl)}</td>
      <td className="number">{spread(repeatabilitySdMl)}</td>
      <td className="number">{spread(betweenSdMl)}</td>
    </>
  );
}
