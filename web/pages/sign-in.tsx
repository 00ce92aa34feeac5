import { Link, useLocation } from 'wouter';
import { peopleText } from '../messages/en-people.ts';
import { PageHeader } from '../parts/page.tsx';
import { SignInForm } from '../parts/sign-in-form.tsx';
import { useSession } from '../session.ts';

export default function SignInPage() {
  const { data } = useSession();
  const [, go] = useLocation();
  const words = peopleText.signIn;
  return (
    <>
      <PageHeader title={words.title} />
      {data?.setupNeeded ? (
        <p>
          {words.setUpFirst} <Link href="/set-up">{words.setUp}</Link>
        </p>
      ) : (
        <>
          {data?.person && <p>{words.signedInAs(data.person.name)}</p>}
          <SignInForm onDone={() => go('/')} />
        </>
      )}
    </>
  );
}
