import { Link } from 'wouter';
import type { ExperimentItem } from '../../../server/experiments/contract.ts';
import { teachingText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Loaded, LoadFailed, Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Empty, PageHeader, Section } from '../../parts/page.tsx';
import { dayOf } from '../../parts/time.ts';
import { useMay } from '../../session.ts';
import { useExperiments, useTemplates, type Template } from './data.ts';

export function ExperimentList() {
  const experiments = useExperiments();
  const mayTeach = useMay()('teach');
  const items = experiments.data?.pages.flatMap((page) => page.items);
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} />
      {!mayTeach && <Notice>{words.readOnly}</Notice>}
      {items === undefined &&
        (experiments.isError ? (
          <LoadFailed error={experiments.error} onRetry={() => void experiments.refetch()} />
        ) : (
          <Loading what={words.what} />
        ))}
      {items?.length === 0 && (
        <Empty title={words.emptyTitle}>
          <p>{words.empty}</p>
        </Empty>
      )}
      {items && items.length > 0 && (
        <Section title={words.earlier}>
          <ul className="plain class-list">
            {items.map((item) => (
              <li key={item.id}>
                <ExperimentRow item={item} />
              </li>
            ))}
          </ul>
          {experiments.hasNextPage && (
            <div className="row">
              <Button onClick={() => void experiments.fetchNextPage()} disabled={experiments.isFetchingNextPage}>
                {words.more}
              </Button>
            </div>
          )}
        </Section>
      )}
      {mayTeach && <Begin />}
    </>
  );
}

function ExperimentRow({ item }: { item: ExperimentItem }) {
  const when = item.openedAt
    ? words.opened(dayOf(new Date(item.openedAt)))
    : words.planned(dayOf(new Date(item.recordedAt)));
  return (
    <Link href={`/${item.id}`} className="class-row" data-state={item.state}>
      <span className="class-row-name">
        <strong>{item.title || item.question}</strong>
        {item.title !== '' && <span className="quiet small">{item.question}</span>}
      </span>
      <span className="class-row-end small">
        <span>
          {words.states[item.state]}
          {item.madeUp && ` · ${words.madeUp}`}
        </span>
        <span className="quiet">
          {words.counts(item.counts.groups, item.counts.trials)} · {when}
        </span>
      </span>
    </Link>
  );
}

function Begin() {
  const templates = useTemplates();
  return (
    <Section title={words.begin}>
      <p className="quiet">{words.beginWhat}</p>
      <Loaded query={templates} what={words.what}>
        {({ items }) => (
          <ul className="plain class-templates">
            {items.map((template) => (
              <li key={template.template}>
                <TemplateCard template={template} />
              </li>
            ))}
          </ul>
        )}
      </Loaded>
    </Section>
  );
}

function TemplateCard({ template }: { template: Template }) {
  return (
    <Link href={`/new/${template.template}`} className="class-template">
      <strong>{template.title || words.ownTitle}</strong>
      <span className="quiet small">{words.templates[template.template]}</span>
    </Link>
  );
}
