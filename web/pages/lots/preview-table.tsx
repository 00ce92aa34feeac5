import { useEffect, useRef } from 'react';
import type { LotPreview } from '../../../server/lots/contract.ts';
import { newLotText } from '../../messages/en-lots.ts';
import { Notice } from '../../parts/notice.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';

const words = newLotText;

/** Every line of the delivery as it would be registered, each problem at its line. */
export function PreviewTable({ preview }: { preview: LotPreview }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [preview]);
  const refused = preview.rows.filter(({ problems }) => problems.length > 0).length;
  const { toleranceMl } = preview;
  return (
    <section className="stack">
      <h2 ref={heading} tabIndex={-1}>
        {words.previewTitle}
      </h2>
      {toleranceMl !== null && <p>{words.tolerance(fixed(toleranceMl, decimalsForTolerance(toleranceMl)))}</p>}
      {refused > 0 && <Notice tone="strong">{words.inTheWay(refused)}</Notice>}
      <div className="table-box" role="region" aria-label={words.previewTitle} tabIndex={0}>
        <table className="table">
          <caption className="unseen">{words.previewCaption}</caption>
          <thead>
            <tr>
              <th scope="col">{words.columns.line}</th>
              <th scope="col">{words.columns.tag}</th>
              <th scope="col">{words.columns.serial}</th>
              <th scope="col">{words.columns.problems}</th>
            </tr>
          </thead>
          <tbody>
            {preview.rows.map(({ line, tag, serial, problems }) => (
              <tr key={line} className={problems.length > 0 ? 'lot-preview-refused' : undefined}>
                <td>{line}</td>
                <th scope="row">{tag}</th>
                <td>{serial}</td>
                <td>{problems.length === 0 ? words.fine : problems.map(({ detail }) => detail).join(' ')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
