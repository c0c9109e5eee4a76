// Gives answers to exported items in an independent QTI 3 player and compares its scores with those that the deck's own
// marking gives.
//
//   node check.mjs PACKAGE_FOLDER NAMES.csv CASES.json [ITEM]
//
// A case tells its answer in the deck's words. The identifiers are looked up here in the item's XML by those words, so
// that the exporter's own idea of them is not taken on trust. Whatever the player complains about on its console counts as a
// failure: alone it scores some broken items as if nothing were wrong.

import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import puppeteer from 'puppeteer-core';

const here = path.dirname(fileURLToPath(import.meta.url));
const modules = path.join(here, 'node_modules');
const player = path.join(modules, 'qti3-item-player');
const vue = [path.join(player, 'node_modules/vue/dist/vue.js'), path.join(modules, 'vue/dist/vue.js')].find(fs.existsSync);
const WAIT_MS = 10_000;

const [folder, namesFile, casesFile, only] = process.argv.slice(2);
const isMeant = item => only === undefined || item === only;
const cases = JSON.parse(fs.readFileSync(casesFile, 'utf8')).filter(({ item }) => isMeant(item));
const files = new Map(
  fs.readFileSync(namesFile, 'utf8').trim().split('\r\n').slice(1)
    .map(line => line.split(','))
    .filter(([, part, choice]) => part === '' && choice === '')
    .map(([item, , , , file]) => [item, path.join(folder, file)]),
);

// The page, its two scripts, the drawings of the package, and nothing else.
const served = {
  '/': ['text/html', '<!DOCTYPE html><meta charset="utf-8"><link rel="icon" href="data:,"><script src="/vue.js"></script><script src="/player.js"></script><body></body>'],
  '/vue.js': ['text/javascript', fs.readFileSync(vue)],
  '/player.js': ['text/javascript', fs.readFileSync(path.join(player, 'dist/qti3Player.umd.js'))],
};
const types = { '.svg': 'image/svg+xml' };
const inPackage = url => {
  const file = path.resolve(folder, `.${decodeURIComponent(url)}`);
  const type = types[path.extname(file)];
  return type && fs.existsSync(file) ? [type, fs.readFileSync(file)] : undefined;
};
const server = http.createServer((request, response) => {
  const [type, body] = served[request.url] ?? inPackage(request.url) ?? ['text/plain', undefined];
  response.writeHead(body === undefined ? 404 : 200, { 'content-type': type });
  response.end(body);
});
await new Promise(done => server.listen(0, '127.0.0.1', done));

const browser = await puppeteer.launch({
  executablePath: process.env.CHROME ?? '/usr/bin/chromium',
  headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
const page = await browser.newPage();
let said = [];
page.on('console', message => said.push(`${message.type()} ${message.text()}`));
page.on('pageerror', error => said.push(`error ${error.message}`));
await page.goto(`http://127.0.0.1:${server.address().port}/`);
await page.evaluate(() => {
  Vue.config.productionTip = false;
  window.Player = qti3Player.default ?? qti3Player;
});

/** Runs in the page: finds the identifiers of an answer by its words; one response a question. */
function identify({ xml, drawings, ...test }) {
  const words = text => text.replace(/\s+/g, ' ').trim();
  const item = new DOMParser().parseFromString(xml, 'application/xml');
  const broken = item.querySelector('parsererror');
  if (broken) throw new Error(`not well-formed: ${words(broken.textContent).slice(0, 100)}`);
  const body = item.querySelector('qti-item-body');
  const said = place => [...place.children].filter(part => part.localName === 'p').map(part => words(part.textContent)).join(' ');
  const named = (choices, text) => {
    const found = [...choices].filter(choice => words(choice.textContent) === words(text));
    if (found.length !== 1) throw new Error(`${found.length} choices say "${text}"`);
    return found[0].getAttribute('identifier');
  };
  // The letter that the drawing has at a place; the words that stand for the drawing must give it the same.
  const letter = (place, { says, at }) => {
    const image = place.querySelector('img');
    const drawing = new DOMParser().parseFromString(drawings[image.getAttribute('src')], 'image/svg+xml');
    let drawn = [...drawing.querySelectorAll('circle')]
      .find(disc => Math.hypot(disc.getAttribute('cx') - at[0], -disc.getAttribute('cy') - at[1]) < 0.02);
    while (drawn && drawn.localName !== 'text') drawn = drawn.nextElementSibling;
    const told = ` ${drawn?.textContent}: ${words(says).replace(/\.$/, '')}`;
    if (!image.getAttribute('alt').includes(told)) throw new Error(`drawn, but not told:${told}`);
    return drawn.textContent;
  };
  const respond = (place, { kind, answer }) => {
    const choices = place.querySelectorAll('qti-simple-choice');
    const [lefts, rights] = [...place.querySelectorAll('qti-simple-match-set')].map(set => set.children);
    switch (kind) {
      case 'locate': return named(choices, letter(place, answer[0]));
      case 'single': return named(choices, answer[0]);
      case 'multiple':
      case 'order': return answer.map(text => named(choices, text));
      case 'match': return answer.map(([left, right]) => `${named(lefts, left)} ${named(rights, right)}`);
      case 'short':
      case 'numeric': return answer;
      default: throw new Error(`no way to answer the kind ${kind}`);
    }
  };
  if (!said(body).startsWith(words(test.stem))) throw new Error(`asks "${said(body)}"`);
  const parts = [...body.children].filter(part => part.localName === 'div');
  if (parts.length !== (test.parts?.length ?? 0)) throw new Error(`${parts.length} parts`);
  const questions = test.parts?.map((part, at) => [parts[at], part]) ?? [[body, test]];
  return Object.fromEntries(questions.map(([place, question]) => {
    // Before the stem of a part stand its number and what has come to light.
    if (!said(place).includes(words(question.stem))) throw new Error(`asks "${said(place)}"`);
    const [interaction, ...more] = place.querySelectorAll('[response-identifier]');
    if (more.length) throw new Error('more than one interaction');
    return [interaction.getAttribute('response-identifier'), respond(place, question)];
  }));
}

/**
 * Runs in the page: lets the player score responses. The way there is to load the item, take its empty state, put the
 * responses in and load it again.
 */
async function score(xml, responses, waitMs) {
  const heard = {};
  const next = event => new Promise((done, fail) => {
    const late = setTimeout(() => fail(new Error(`no ${event} from the player`)), waitMs);
    heard[event] = data => { clearTimeout(late); done(data); };
  });
  const place = document.body.appendChild(document.createElement('div'));
  let player;
  const on = {
    notifyQti3PlayerReady: ready => { player = ready; },
    notifyQti3ItemReady: data => heard.item?.(data),
    notifyQti3SuspendAttemptCompleted: data => heard.suspended?.(data),
    notifyQti3ScoreAttemptCompleted: data => heard.scored?.(data),
  };
  const app = new Vue({ render: create => create(window.Player, { on }) }).$mount(place);
  try {
    const settings = guid => ({ guid, status: 'interacting', sessionControl: { max_attempts: 0, show_feedback: true, validate_responses: false } });
    let event = next('item');
    player.loadItemFromXml(xml, settings('first'));
    await event;
    event = next('suspended');
    player.suspendAttempt('first');
    const { state } = await event;
    for (const [name, response] of Object.entries(responses)) {
      const variable = state.responseVariables.find(({ identifier }) => identifier === name);
      if (!variable) throw new Error(`the item declares no ${name}`);
      variable.value = response;
    }
    event = next('item');
    // The player does not load the same text twice.
    player.loadItemFromXml(xml.replace('<qti-item-body>', '<qti-item-body> '), { ...settings('second'), state });
    await event;
    for (const image of document.querySelectorAll('img')) {
      await image.decode().catch(() => { throw new Error(`the player does not show ${image.getAttribute('src')}`); });
    }
    if (document.querySelectorAll('img').length !== xml.split('<img ').length - 1) throw new Error('a drawing is not shown');
    event = next('scored');
    player.scoreAttempt('second');
    const outcomes = (await event).state.outcomeVariables;
    const value = name => outcomes.find(({ identifier }) => identifier === name)?.value;
    return { score: value('SCORE'), feedback: value('FEEDBACK') };
  } finally {
    app.$destroy();
    document.body.replaceChildren();
  }
}

/** The drawings that an item names, as text, and the item with the addresses under which the page finds them. */
function drawn(xml, itemFolder) {
  const drawings = {};
  const here = xml.replace(/(<img [^>]*?src=")([^"]+)"/g, (_, before, src) => {
    const file = path.join(itemFolder, src);
    drawings[src] = fs.readFileSync(file, 'utf8');
    return `${before}/${path.relative(folder, file)}"`;
  });
  return { here, drawings };
}

const tally = new Map();
let failed = 0;
for (const test of cases) {
  said = [];
  let got;
  try {
    const xml = fs.readFileSync(files.get(test.item), 'utf8');
    const { here, drawings } = drawn(xml, path.dirname(files.get(test.item)));
    const responses = await page.evaluate(identify, { ...test, xml, drawings });
    got = await page.evaluate(score, here, responses, WAIT_MS);
  } catch (error) {
    got = { error: error.message.split('\n')[0] };
  }
  const complaint = said.find(line => /vue warn|error/i.test(line));
  const isRight = got.score === test.score && got.feedback === 'answered' && !complaint;
  const count = tally.get(test.kind) ?? { passed: 0, failed: 0 };
  count[isRight ? 'passed' : 'failed'] += 1;
  tally.set(test.kind, count);
  if (!isRight) {
    failed += 1;
    console.log('FAIL', test.item, JSON.stringify(test.answer ?? test.parts.map(part => part.answer)), 'want', test.score, 'got', JSON.stringify(got), complaint?.slice(0, 200) ?? '');
  }
}
await browser.close();
server.close();
for (const [kind, count] of tally) console.log(`  ${kind}: ${count.passed} passed, ${count.failed} failed`);
const untried = [...files.keys()].filter(item => isMeant(item) && !cases.some(test => test.item === item));
if (untried.length) console.log('no answers tried:', untried.join(' '));
console.log(`player: ${cases.length - failed} of ${cases.length} scores as the deck marks them`);
process.exit(failed || untried.length || !cases.length ? 1 : 0);
