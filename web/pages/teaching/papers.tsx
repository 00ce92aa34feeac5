import type { Experiment } from '../../../server/experiments/contract.ts';
import { runText as words } from '../../messages/en-teaching.ts';
import { Section } from '../../parts/page.tsx';

/** What the class takes away; each is made when it is asked for. */
export function PapersSection({ experiment }: { experiment: Experiment }) {
  const at = `/api/experiments/${experiment.id}`;
  const hasTrials = experiment.counts.trials > 0;
  const papers = [
    ...(experiment.state === 'closed' ? [] : [{ href: `${at}/sheet.pdf`, label: words.papers.sheet }]),
    ...(hasTrials
      ? [
          { href: `${at}/report.pdf`, label: words.papers.report },
          { href: `${at}/worksheet.pdf`, label: words.papers.worksheet },
          { href: `${at}/worksheet.pdf?answers=true`, label: words.papers.answers },
          { href: `${at}/data.csv`, label: words.papers.data },
        ]
      : []),
  ];
  if (papers.length === 0) return null;
  return (
    <Section title={words.papersTitle}>
      <ul className="plain stack tight">
        {papers.map(({ href, label }) => (
          <li key={href}>
            <a className="lone-link" href={href} download="">
              {label}
            </a>
          </li>
        ))}
      </ul>
    </Section>
  );
}
