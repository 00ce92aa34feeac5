import { Link } from 'wouter';
import { PROBLEMS } from '../../../server/problem-codes.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { LinkButton } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { HOME, RoomHeader, WideTable } from './parts.tsx';

const words = referenceText.refusals;
const ALL = Object.entries(PROBLEMS);

export function RefusalsPage() {
  return (
    <>
      <RoomHeader room="refusals" lead={words.lead} />
      <RefusalTable />
    </>
  );
}

function RefusalTable() {
  return (
    <WideTable caption={words.all}>
      <thead>
        <tr>
          <th scope="col">{words.title}</th>
          <th scope="col">{words.name}</th>
          <th scope="col" className="number">
            {words.status}
          </th>
        </tr>
      </thead>
      <tbody>
        {ALL.map(([code, { title, status }]) => (
          <tr key={code}>
            <th scope="row">
              <Link href={`~/problems/${code}`}>{title}</Link>
            </th>
            <td>
              <code>{code}</code>
            </td>
            <td className="number">{status}</td>
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}

/** The address every refusal carries as its type. */
export function RefusalPage({ code }: { code: string }) {
  const found = ALL.find(([known]) => known === code);
  if (!found)
    return (
      <>
        <PageHeader title={words.unknownTitle} within={HOME} lead={words.unknown(code)} />
        <RefusalTable />
      </>
    );
  const [, { title, status, meaning }] = found;
  return (
    <>
      <PageHeader title={title} within={{ href: '~/reference/refusals', label: words.within }} />
      <div className="stack measure">
        <p>{meaning}</p>
        <p className="quiet">{words.forPrograms(code, status)}</p>
        <div className="row">
          <LinkButton href="~/reference/refusals">{words.all}</LinkButton>
        </div>
      </div>
    </>
  );
}
