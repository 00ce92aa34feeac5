import { Link } from 'wouter';
import { peopleText } from '../messages/en-people.ts';
import { useSession } from '../session.ts';
import { Dialog } from './dialog.tsx';
import { SignInForm, useLastName } from './sign-in-form.tsx';

/** Over the page as it stands: what was typed stays, what was refused is asked again afterwards. */
export default function SignInAgain() {
  const session = useSession();
  const name = useLastName();
  const words = peopleText.signIn;
  const stay = () => undefined;
  if (session.data?.setupNeeded)
    return (
      <Dialog title={words.setUpFirst} onClose={stay} stays>
        <Link href="/set-up" className="lone-link">
          {words.setUp}
        </Link>
      </Dialog>
    );
  return (
    <Dialog title={words.againTitle} onClose={stay} stays>
      <p>{words.againWhat}</p>
      <SignInForm name={name} onDone={stay} />
    </Dialog>
  );
}
