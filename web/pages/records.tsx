import { Link, Route, Switch, useLocation } from 'wouter';
import { recordsText } from '../messages/en-records.ts';
import { takeAwayText } from '../messages/en-take-away.ts';
import { CertificatePage } from './records/certificate.tsx';
import { CertificateList } from './records/certificates.tsx';
import { JournalPage } from './records/journal.tsx';
import { Overview } from './records/overview.tsx';
import './records.css';

const PARTS = [
  { href: '/', label: recordsText.overview },
  { href: '/certificates', label: recordsText.certificates },
  { href: '/journal', label: recordsText.journal },
  { href: '/take-away', label: takeAwayText.short },
];

/** What was measured, signed and issued: for whoever has to check it without trusting anyone. */
export default function RecordsPage() {
  const [path] = useLocation();
  const isHere = (href: string): boolean => (href === '/' ? path === '/' : path.startsWith(href));
  return (
    <>
      <nav className="part-nav no-print" aria-label={recordsText.rooms}>
        {PARTS.map(({ href, label }) => (
          <Link key={href} href={href} aria-current={isHere(href) ? 'page' : undefined}>
            {label}
          </Link>
        ))}
      </nav>
      <Switch>
        <Route path="/certificates" component={CertificateList} />
        <Route path="/certificates/:number">{({ number }) => <CertificatePage key={number} number={number} />}</Route>
        <Route path="/journal" component={JournalPage} />
        <Route component={Overview} />
      </Switch>
    </>
  );
}
