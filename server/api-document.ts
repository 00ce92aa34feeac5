/** What the API document says of every route beside its own shapes: keys, versions and the form of a refusal. */
import { jsonSchemaTransform } from 'fastify-type-provider-zod';

const text = { type: 'string' };

/** RFC 9457, with the fields that were refused. */
const PROBLEM = {
  type: 'object',
  required: ['type', 'title', 'status', 'detail', 'instance'],
  properties: {
    type: { ...text, description: 'The path /problems/ and the code of the refusal.' },
    title: text,
    status: { type: 'integer' },
    detail: text,
    instance: { ...text, description: 'The id of this request, also in the journal and the log.' },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        required: ['pointer', 'detail'],
        properties: {
          pointer: { ...text, description: 'JSON pointer fragment into the request body, for example #/filledG.' },
          detail: text,
          confirm: { ...text, description: 'On questions: the name to send in confirm, with a note.' },
        },
      },
    },
  },
};
const REFUSAL = { description: 'A refusal', content: { 'application/problem+json': { schema: PROBLEM } } };

const header = (name: string, description: string) => ({
  type: 'object',
  required: [name],
  properties: { [name]: { ...text, description } },
});
const KEY = header(
  'Idempotency-Key',
  'A key of this request alone; sent again with the same body, the first answer comes again.',
);
const VERSION = header('If-Match', 'The version that is changed, in quotes: "3".');

type Transform = typeof jsonSchemaTransform;

/** A route that answers 201 creates and needs a key; one that changes in place needs the version. */
export const describeRoute = (input: Parameters<Transform>[0]): ReturnType<Transform> => {
  const { schema, url } = jsonSchemaTransform(input);
  const response = (schema['response'] ?? {}) as Record<string, unknown>;
  const isKeyed = '201' in response && input.route.config?.keyless !== true;
  const headers = input.route.method === 'PATCH' ? { headers: VERSION } : isKeyed ? { headers: KEY } : {};
  return { schema: { ...schema, ...headers, response: { ...response, default: REFUSAL } }, url };
};
