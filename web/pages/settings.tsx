import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { VERSIONS } from '../../server/metrology/versions.ts';
import type { Health } from '../../server/reference/contract.ts';
import { get } from '../api.ts';
import { settingsText } from '../messages/en-settings.ts';
import { Loaded } from '../parts/loading.tsx';
import { Notice } from '../parts/notice.tsx';
import { PageHeader, Section } from '../parts/page.tsx';
import { useLaboratory } from '../queries.ts';
import { useMay, useSession } from '../session.ts';
import { BackupsSection } from './settings/backups.tsx';
import { LaboratoryForm } from './settings/laboratory-form.tsx';
import './settings.css';

export default function SettingsPage() {
  const laboratory = useLaboratory();
  const may = useMay();
  return (
    <>
      <PageHeader title={settingsText.title} lead={settingsText.lead} />
      <Loaded query={laboratory} what={settingsText.what}>
        {(loaded) => (
          <>
            <LaboratoryForm laboratory={loaded} />
            {may('keep') && <BackupsSection laboratory={loaded} />}
            <Access />
            <Installation demonstration={loaded.demonstration} />
          </>
        )}
      </Loaded>
    </>
  );
}

function Access() {
  const words = settingsText.access;
  const may = useMay();
  const { data } = useSession();
  return (
    <Section title={words.title}>
      <ul className="plain stack">
        {data?.setupNeeded && <AccessLink href="/set-up" label={words.setUp} />}
        {data?.person && <AccessLink href="/settings/my-access" label={words.own} />}
        {data?.person && may('oversee') && <AccessLink href="/settings/people" label={words.people} />}
        {data?.person && may('oversee') && <AccessLink href="/settings/keys" label={words.keys} />}
      </ul>
    </Section>
  );
}

const AccessLink = ({ href, label }: { href: string; label: string }) => (
  <li>
    <Link href={href} className="lone-link">
      {label}
    </Link>
  </li>
);

/** What runs here, and where programs find their way in. */
function Installation({ demonstration }: { demonstration: boolean }) {
  const words = settingsText.program;
  const health = useQuery({
    queryKey: ['health'],
    queryFn: ({ signal }) => get<Health>('/api/health', signal),
  });
  return (
    <Section title={words.title}>
      {demonstration && <Notice>{words.demonstration}</Notice>}
      <Loaded query={health} what={words.health}>
        {({ version }) => (
          <dl className="facts">
            <dt>{words.version}</dt>
            <dd>{version}</dd>
            <dt>{words.health}</dt>
            <dd>
              {words.healthy} · <a href="/api/health">{words.healthLink}</a>
            </dd>
            <dt>{words.api}</dt>
            <dd>
              <a href="/api/openapi.json" className="lone-link">
                {words.apiLink}
              </a>
            </dd>
            <dt>{words.models}</dt>
            <dd>
              {Object.values(VERSIONS).join(' · ')} · <Link href="/reference/formulas">{words.reference}</Link>
            </dd>
          </dl>
        )}
      </Loaded>
    </Section>
  );
}
