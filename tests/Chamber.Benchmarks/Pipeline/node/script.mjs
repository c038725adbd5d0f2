// The script to beat: parse, add up degree-hours, insert by thousands. With "commit-first" it holds every PUBACK back until the
// transaction that holds its message is committed.
// usage: node script.mjs PORT CLIENT_ID QOS MESSAGES DATABASE as-it-comes|commit-first
import mqtt from 'mqtt';
import Database from 'better-sqlite3';

const [port, clientId, qos, messages, file, order] = process.argv.slice(2);
const total = Number(messages);
const db = new Database(file);
db.pragma('journal_mode = WAL');
db.pragma('synchronous = NORMAL');
db.exec('CREATE TABLE reading (probe TEXT, at INTEGER, temperature REAL, humidity REAL)');
const insert = db.prepare('INSERT INTO reading VALUES (?, ?, ?, ?)');

const warmth = new Map();
let rows = [];
let held = [];
let count = 0;
let started = 0n;
let before;

const busy = () => { const used = process.resourceUsage(); return used.userCPUTime + used.systemCPUTime; };

const commit = db.transaction((batch) => {
  for (const row of batch) insert.run(row[0], row[1], row[2], row[3]);
});

const client = mqtt.connect({ host: '127.0.0.1', port: Number(port), clientId, clean: false, protocolVersion: 4, reconnectPeriod: 0 });
const send = client._sendPacket.bind(client);
if (order === 'commit-first') {
  client._sendPacket = (packet, done, ...rest) => {
    if (packet.cmd !== 'puback') return send(packet, done, ...rest);
    held.push(packet);
    if (rows.length >= 1000 || count === total) flush();
    if (done) done();
  };
}

function flush() {
  if (rows.length > 0) commit(rows);
  rows = [];
  for (const packet of held) send(packet);
  held = [];
  if (count === total) finish();
}

function finish() {
  const seconds = Number(process.hrtime.bigint() - started) / 1e9;
  const cpuSeconds = (busy() - before) / 1e6;
  console.log(JSON.stringify({
    messages: total,
    seconds,
    stored: db.prepare('SELECT count(*) AS n FROM reading').get().n,
    cpuSeconds,
    peakMegabytes: process.resourceUsage().maxRSS / 1024,
  }));
  process.exit(0);
}

client.on('message', (topic, payload) => {
  if (count++ === 0) {
    started = process.hrtime.bigint();
    before = busy();
  }

  const reading = JSON.parse(payload);
  const probe = topic.split('/')[1];
  const at = Date.parse(reading.at);
  const state = warmth.get(probe);
  if (state === undefined) {
    warmth.set(probe, { at, temperature: reading.temperature, hours: 0 });
  } else {
    const mean = (state.temperature + reading.temperature) / 2;
    state.hours += Math.max(0, mean - 10) * (at - state.at) / 3600000;
    state.at = at;
    state.temperature = reading.temperature;
  }
  rows.push([probe, at, reading.temperature, reading.humidity]);
  if (order !== 'commit-first' && (rows.length >= 1000 || count === total)) flush();
});
client.on('error', (error) => { console.error(error); process.exit(1); });
// A batch cut short by a lull is committed all the same.
setInterval(() => { if (rows.length > 0) flush(); }, 50);
