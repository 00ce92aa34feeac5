import type { ChoiceReply } from '../../../server/solutions/contract-choice.ts';
import { chooseText as words } from '../../messages/en-choose.ts';
import { text } from '../../messages/en.ts';
import { KindMark } from '../../parts/kind-mark.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';

type Kind = ChoiceReply['kinds'][number];

/** Kinds for the job from the plainest on, then why the others are not for it. */
export function ChosenKinds({ kinds }: { kinds: readonly Kind[] }) {
  const fits = kinds.filter(({ against }) => against === null);
  const others = kinds.filter(({ against }) => against !== null);
  return (
    <>
      {fits.length === 0 && <p className="quiet">{words.noKind}</p>}
      <ul className="plain choose-kinds">
        {fits.map((kind) => (
          <FittingKind key={kind.kind} kind={kind} />
        ))}
      </ul>
      <details className="choose-others">
        <summary>{words.notForThis}</summary>
        <dl className="facts">
          {others.map(({ kind, against }) => (
            <div key={kind} className="choose-other">
              <dt>{text.words.vesselKinds[kind]}</dt>
              <dd>{against !== null && words.reasons[against]}</dd>
            </div>
          ))}
        </dl>
      </details>
    </>
  );
}

function FittingKind({ kind: { kind, classes } }: { kind: Kind }) {
  return (
    <li className="choose-kind">
      <KindMark kind={kind} />
      <div>
        <strong>{text.words.vesselKinds[kind]}</strong>
        <p className="quiet small">{words.kindFor[kind]}</p>
        {classes.length > 0 && (
          <details className="small choose-classes-fold">
            <summary>{words.classes}</summary>
            <ul className="plain choose-classes">
              {classes.map((row) => (
                <li key={`${row.standard} ${row.edition} ${row.class}`}>
                  <ClassLine row={row} />
                </li>
              ))}
            </ul>
          </details>
        )}
      </div>
    </li>
  );
}

function ClassLine({ row }: { row: Kind['classes'][number] }) {
  const { standard, edition, nominalMl, toleranceMl, adequate } = row;
  // Some editions bear the name of their standard already.
  const bracketed = edition === 'unknown' ? standard : `${standard} (${edition})`;
  const named = /^\d/.test(edition) ? `${standard}:${edition}` : bracketed;
  const name = row.class === '-' ? named : words.className(named, row.class);
  const says = adequate === null ? null : adequate ? words.classDoes : words.classNeeds;
  return (
    <>
      {words.classIs(name, String(nominalMl), fixed(toleranceMl, decimalsForTolerance(toleranceMl)))}
      {says !== null && <span className={adequate === true ? 'choose-does' : 'quiet'}> · {says}</span>}
    </>
  );
}
