/** Saving over HTTP, against a bare route that commits one row; and how soon a new server answers. */
import { randomUUID } from 'node:crypto';
import { Agent, request } from 'node:http';
import { atLeast, atMost, interleavedRatio, median, remark, timed } from './measure.ts';
import type { Measure } from './measure.ts';
import { makeCalibration, makeVessel } from './records.ts';
import { startBareServer, startTarebook } from './server-process.ts';

const CONNECTIONS = 10;
const TRIALS_PER_CALIBRATION = 10;
const CALIBRATIONS_PER_CONNECTION = 20;
const ROUNDS = 9;
const STARTS = 7;

interface Post {
  path: string;
  body: string;
}

export async function http(): Promise<Measure[]> {
  return [await saveTrialRatio(), await firstAnswer()];
}

async function saveTrialRatio(): Promise<Measure> {
  const tarebook = await startTarebook();
  const bare = await startBareServer();
  const agent = new Agent({ keepAlive: true, maxSockets: CONNECTIONS });
  try {
    const address = `http://127.0.0.1:${tarebook.port}`;
    const vessel = await makeVessel(address, 'BENCH-1');
    const ours = async () => {
      const queues = await trialQueues(address, vessel);
      return savedPerSecond(agent, tarebook.port, queues);
    };
    const theirs = () => {
      const queues = Array.from({ length: CONNECTIONS }, () =>
        Array.from({ length: CALIBRATIONS_PER_CONNECTION * TRIALS_PER_CALIBRATION }, (_, index) => ({
          path: '/trials',
          body: trialBody(index),
        })),
      );
      return savedPerSecond(agent, bare.port, queues);
    };
    await ours();
    await theirs();
    const result = await interleavedRatio(ROUNDS, ours, theirs);
    remark(`${Math.round(result.first)} trials/s saved, bare route ${Math.round(result.second)} rows/s`);
    return atLeast('http.save-trial-ratio', result.ratio, '1', 0.5);
  } finally {
    agent.destroy();
    await tarebook.stop();
    await bare.stop();
  }
}

async function firstAnswer(): Promise<Measure> {
  const seconds: number[] = [];
  for (let start = 0; start < STARTS; start += 1) {
    const server = await startTarebook();
    seconds.push(server.firstAnswerS);
    await server.stop();
  }
  return atMost('start.first-answer-s', median(seconds), 's', 1.5);
}

/** Every connection is a technician at a balance, who fills one calibration after the other. */
async function trialQueues(address: string, vessel: string): Promise<Post[][]> {
  const queues: Post[][] = [];
  for (let connection = 0; connection < CONNECTIONS; connection += 1) {
    const queue: Post[] = [];
    for (let count = 0; count < CALIBRATIONS_PER_CONNECTION; count += 1) {
      const calibration = await makeCalibration(address, vessel, TRIALS_PER_CALIBRATION);
      for (let trial = 0; trial < TRIALS_PER_CALIBRATION; trial += 1) {
        queue.push({ path: `/api/calibrations/${calibration}/trials`, body: trialBody(trial) });
      }
    }
    queues.push(queue);
  }
  return queues;
}

function trialBody(index: number): string {
  const filledG = (160.8371 + (index % 10) / 1000).toFixed(4);
  return JSON.stringify({ pointMl: '100', emptyG: '61.2345', filledG, waterTemperatureC: '20.3' });
}

/** All queues at once, each on a connection of its own and one request after the other. */
async function savedPerSecond(agent: Agent, port: number, queues: readonly Post[][]): Promise<number> {
  const seconds = await timed(async () => {
    await Promise.all(
      queues.map(async (queue) => {
        for (const { path, body } of queue) await post(agent, port, path, body);
      }),
    );
  });
  return queues.reduce((count, queue) => count + queue.length, 0) / seconds;
}

function post(agent: Agent, port: number, path: string, body: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const headers = {
      'content-type': 'application/json',
      'content-length': Buffer.byteLength(body),
      'idempotency-key': randomUUID(),
    };
    const sent = request({ agent, host: '127.0.0.1', port, path, method: 'POST', headers }, (reply) => {
      let text = '';
      reply.setEncoding('utf8');
      reply.on('data', (chunk: string) => (text += chunk));
      reply.on('end', () => {
        if (reply.statusCode === 201) resolve();
        else reject(new Error(`${path} answered ${reply.statusCode ?? 'nothing'}: ${text}`));
      });
    });
    sent.on('error', reject);
    sent.end(body);
  });
}
