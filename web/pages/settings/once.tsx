import { useState } from 'react';
import { peopleText } from '../../messages/en-people.ts';
import { Button } from '../../parts/button.tsx';

/** Something secret, shown this once. Plain http has no clipboard; then it is selected, to be copied by hand. */
export function ShownOnce({ secret }: { secret: string }) {
  const [copied, setCopied] = useState(false);
  const copy = async () => {
    const box = document.getElementById('shown-once');
    if (box) window.getSelection()?.selectAllChildren(box);
    // Where the page is not trusted there is no clipboard, whatever the types say.
    const clipboard = navigator.clipboard as Clipboard | undefined;
    if (!clipboard) return;
    await clipboard.writeText(secret);
    setCopied(true);
  };
  return (
    <div className="row">
      <code id="shown-once" className="shown-once">
        {secret}
      </code>
      <Button onClick={() => void copy()}>{copied ? peopleText.people.copied : peopleText.people.copy}</Button>
    </div>
  );
}
