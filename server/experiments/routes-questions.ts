import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { questionsFor, checkAnswer, reasonsToOffer, type Question } from '../metrology/class/questions.ts';
import { CLASS_GROUP } from '../people/access.ts';
import { invalid, notFound } from '../problem.ts';
import type { Logbook } from '../db/logbook.ts';
import type { ClassData } from './contract-class.ts';
import { answerBody, answerChecked, questionList } from './contract-questions.ts';
import { experimentParams } from './contract.ts';
import { figuresOf } from './figures-of.ts';
import { requireOwnExperiment } from './rights.ts';
import { findExperiment } from './store.ts';
import { classDataOf } from './view-class.ts';

const CHECKING = { access: CLASS_GROUP, classListener: true } as const;

/** Rows by their names; the answers of a statement have none. */
const optionsOf = (data: ClassData, keys: readonly string[]) =>
  keys.map((key) => ({ key, label: data.rows.find((row) => row.key === key)?.label ?? null }));

/** Check yourself: jobs and statements, answered by what this class measured so far. */
export const questionRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  const questionsAbout = async (id: string): Promise<{ data: ClassData; questions: Question[] }> =>
    logbook.read(async (db) => {
      const stored = await findExperiment(db, id);
      if (!stored) throw notFound('experiment');
      const data = await classDataOf(db, stored);
      return { data, questions: questionsFor(figuresOf(data, 'corrected')) };
    });

  app.get(
    '/experiments/:id/questions',
    { config: CHECKING, schema: { params: experimentParams, response: { 200: questionList } } },
    async (request) => {
      requireOwnExperiment(request, request.params.id);
      const { data, questions } = await questionsAbout(request.params.id);
      return {
        items: questions.map((question) => ({
          id: question.id,
          about: data.rows.find((row) => row.key === question.about)?.label ?? null,
          ask: question.ask,
          options: optionsOf(data, question.options),
          reasons: reasonsToOffer(question),
        })),
      };
    },
  );

  app.post(
    '/experiments/:id/answers',
    { config: CHECKING, schema: { params: experimentParams, body: answerBody, response: { 200: answerChecked } } },
    async (request) => {
      requireOwnExperiment(request, request.params.id);
      const { data, questions } = await questionsAbout(request.params.id);
      const { question: id, option, reason } = request.body;
      const question = questions.find((one) => one.id === id);
      if (!question)
        throw invalid([
          { pointer: '#/question', detail: 'The numbers of this class do not answer that question yet.' },
        ]);
      if (!question.options.includes(option))
        throw invalid([{ pointer: '#/option', detail: 'Choose an answer from the list.' }]);
      return {
        ...checkAnswer(question, { option, reason }),
        right: optionsOf(data, question.right),
        reasons: question.reasons,
      };
    },
  );
};
