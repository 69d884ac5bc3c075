#!/usr/bin/env python3
"""Learns the reading model's weights from what `ScoreLens.Training export` wrote. Needs PyTorch and a GPU.

  learn.py DATA OUT [options]                     train one network on the training works
  learn.py DATA OUT --teachers A.pt B.pt …        train it on the mean of other networks' readings as well

It learns from works whose split is Train, prints the shares by duration of right keys and numerals, one vertical at a time and
without decoding over time, on the validation and on the measured works, and writes OUT.pt (weights and settings) and OUT.bin (the library's weights file, in half precision).
The network: a linear layer over the sparse features of each vertical, a convolution over three verticals, two
bidirectional recurrent layers, and a linear layer to factor scores. A fixed table sums factors to the score of every pair of
key and numeral.
"""
import argparse, gzip, json, math, os, struct, time
import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

PLACES, MIDDLE, QUALITIES = 35, 17, 15
torch.backends.cuda.matmul.allow_tf32 = True
torch.backends.cudnn.allow_tf32 = True


class Data:
    """All verticals on the device: features, labels, times; and where each work lies."""

    def __init__(self, folder, device):
        self.index = json.load(open(os.path.join(folder, 'index.json')))
        raw = lambda name, kind: np.frombuffer(gzip.open(os.path.join(folder, name + '.gz')).read(), kind)
        counts, indices, values = raw('counts', '<u2'), raw('indices', '<u2'), raw('values', '<f2')
        total, width = self.index['total'], self.index['width']
        rows = torch.from_numpy(np.repeat(np.arange(total), counts)).to(device)
        self.x = torch.zeros(total, width, dtype=torch.float16, device=device)
        self.x[rows, torch.from_numpy(indices.astype(np.int64)).to(device)] = torch.from_numpy(values.copy()).to(device)
        self.labels = torch.from_numpy(raw('labels', '<i2').reshape(total, 6).astype(np.int64)).to(device)
        self.times = torch.from_numpy(raw('times', '<f4').reshape(total, 2).copy()).to(device)
        self.planes, self.width = self.index['planes'], width
        self.works = self.index['works']


class Vocabulary:
    """The table that sums factors to pairs (key, numeral)."""

    def __init__(self, entries, device):
        self.entries, n = entries, len(entries)
        column = lambda f: torch.tensor([f(e) for e in entries], device=device)
        self.mode, self.root, self.bass = column(lambda e: e['mode']), column(lambda e: e['root']), column(lambda e: e['bass'])
        self.target = column(lambda e: e['target'] if e['target'] is not None else 99)
        self.quality, self.inversion = column(lambda e: e['quality']), column(lambda e: e['inversion'])
        classes = {}
        self.cls = torch.tensor([classes.setdefault((e['mode'], e['root'], e['target'], e['quality']), len(classes)) for e in entries], device=device)
        self.classes = len(classes)
        # factor layout: key 2x35, root 35, bass 35, target 36, quality, inversion 4, numeral without inversion, new chord, new key
        names = [('key', 70), ('root', PLACES), ('bass', PLACES), ('target', PLACES + 1), ('quality', QUALITIES), ('inversion', 4), ('numeral', self.classes)]
        self.at, at = {}, 0
        for name, size in names: self.at[name] = (at, size); at += size
        self.factors, self.outputs = at, at + 2
        # pairs: every place of the tonic with every numeral of the vocabulary
        tonic = torch.arange(PLACES, device=device)[:, None].expand(PLACES, n).reshape(-1)
        entry = torch.arange(n, device=device)[None].expand(PLACES, n).reshape(-1)
        place = lambda rel: (tonic + rel[entry]).clamp(0, PLACES - 1)
        target = torch.where(self.target[entry] == 99, PLACES, place(self.target))
        table = torch.zeros(PLACES * n, at, device=device)
        for name, where in (('key', self.mode[entry] * PLACES + tonic), ('root', place(self.root)), ('bass', place(self.bass)), ('target', target),
                            ('quality', self.quality[entry]), ('inversion', self.inversion[entry]), ('numeral', self.cls[entry])):
            table[torch.arange(PLACES * n, device=device), self.at[name][0] + where] += 1
        self.table, self.n = table, n

    def pairs(self, factors): return factors @ self.table.T

    def targets(self, tonic, entry):
        """Factor classes of labelled verticals: tonic as a place, entry in the vocabulary."""
        place = lambda rel: (tonic + rel[entry]).clamp(0, PLACES - 1)
        return dict(key=self.mode[entry] * PLACES + tonic, root=place(self.root), bass=place(self.bass),
                    target=torch.where(self.target[entry] == 99, PLACES, place(self.target)),
                    quality=self.quality[entry], inversion=self.inversion[entry], numeral=self.cls[entry])


class Network(nn.Module):
    def __init__(self, width, outputs, front, hidden, dropout, layers=2, attention=0):
        super().__init__()
        self.first = nn.Linear(width, front)
        self.norm = nn.LayerNorm(front)
        self.conv = nn.Conv1d(front, front, 3, padding=1)
        self.gru = nn.GRU(front, hidden, layers, batch_first=True, bidirectional=True, dropout=dropout if layers > 1 else 0)
        self.attention = nn.TransformerEncoderLayer(2 * hidden, 4, 4 * hidden, dropout, batch_first=True, norm_first=True) if attention else None
        self.last = nn.Linear(2 * hidden, outputs)
        self.drop = nn.Dropout(dropout)

    def forward(self, x):
        h = self.drop(F.relu(self.norm(self.first(x))))
        h = self.drop(h + F.relu(self.conv(h.transpose(1, 2)).transpose(1, 2)))
        h, _ = self.gru(h)
        if self.attention is not None: h = self.attention(h)
        return self.last(self.drop(h))


def shift_rows(x, shift, planes):
    """Moves every plane of each crop by its own number of places."""
    b, t, w = x.shape
    pitch = x[..., :planes * PLACES].view(b, t, planes, PLACES)
    source = torch.arange(PLACES, device=x.device)[None] - shift[:, None]
    inside = (source >= 0) & (source < PLACES)
    moved = torch.gather(pitch, 3, source.clamp(0, PLACES - 1)[:, None, None].expand(b, t, planes, PLACES)) * inside[:, None, None]
    return torch.cat([moved.reshape(b, t, -1), x[..., planes * PLACES:]], 2)


def measure(model, data, vocabulary, without=()):
    """Shares by duration, per repertoire and split, one vertical at a time."""
    model.eval()
    sums = {}
    with torch.no_grad():
        for work in data.works:
            if work['split'] not in ('Validation', 'Measure') or work['length'] == 0: continue
            s = slice(work['start'], work['start'] + work['length'])
            label, duration = data.labels[s], data.times[s, 1]
            x = data.x[s].float()[None]
            for plane in without: x[..., plane * PLACES:(plane + 1) * PLACES] = 0
            out = model(x)[0]
            best = []
            for chunk in out.split(2048): best.append(vocabulary.pairs(chunk[:, :vocabulary.factors]).argmax(1))
            best = torch.cat(best)
            tonic, entry = best // vocabulary.n, best % vocabulary.n
            known = label[:, 1] >= 0
            key = known & (tonic - MIDDLE == label[:, 0]) & (vocabulary.mode[entry] == label[:, 1])
            numeral = key & (entry == label[:, 2])
            at = sums.setdefault((work['split'], work['repertoire']), [0, 0, 0])
            at[0] += (duration * known).sum().item(); at[1] += (duration * key).sum().item(); at[2] += (duration * numeral).sum().item()
    model.train()
    return {f'{s}/{r}': (round(n / t, 4), round(k / t, 4)) for (s, r), (t, k, n) in sorted(sums.items())}


def write_weights(path, model, data, o):
    """The file that the library embeds: a JSON header, then all arrays in half precision."""
    arrays, parts, at = [], [], 0
    for name, value in model.state_dict().items():
        arrays.append(dict(name=name, shape=list(value.shape), at=at)); at += value.numel()
        parts.append(value.detach().cpu().numpy().astype('<f2').tobytes())
    vocabulary = [[v['mode'], v['root'], v['target'], v['quality'], v['inversion']] for v in data.index['vocabulary']]
    head = json.dumps(dict(front=o.front, hidden=o.hidden, layers=o.layers, vocabulary=vocabulary, arrays=arrays)).encode()
    with open(path, 'wb') as f: f.write(b'SLRM' + struct.pack('<i', len(head)) + head + b''.join(parts))


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument('data'); ap.add_argument('out')
    ap.add_argument('--front', type=int, default=192); ap.add_argument('--hidden', type=int, default=128); ap.add_argument('--layers', type=int, default=2)
    ap.add_argument('--attention', type=int, default=0); ap.add_argument('--dropout', type=float, default=.3)
    ap.add_argument('--epochs', type=int, default=260); ap.add_argument('--batch', type=int, default=32); ap.add_argument('--crop', type=int, default=192)
    ap.add_argument('--rate', type=float, default=2e-3); ap.add_argument('--decay', type=float, default=.01); ap.add_argument('--seed', type=int, default=1)
    ap.add_argument('--smooth', type=float, default=.05); ap.add_argument('--factor', type=float, default=.3); ap.add_argument('--power', type=float, default=.5)
    ap.add_argument('--drop-places', type=float, default=.05); ap.add_argument('--shift', type=int, default=6)
    ap.add_argument('--teachers', nargs='*', default=[]); ap.add_argument('--soft', type=float, default=.7)
    ap.add_argument('--limit', type=float, default=1e9, help='seconds after which the schedule is cut short')
    ap.add_argument('--variations', type=float, default=.3, help='share of crops from variations of the works'); ap.add_argument('--handbook', type=float, default=.1, help='share of crops from handbook progressions')
    ap.add_argument('--sampling', type=float, default=1, help='a work is drawn by its length to this power'); ap.add_argument('--smooth-pair', type=float, default=0)
    ap.add_argument('--drop-planes', type=float, default=0, help='share of planes left out, a crop at a time'); ap.add_argument('--without', type=int, nargs='*', default=[], help='planes left out always')
    o = ap.parse_args()
    torch.manual_seed(o.seed); device = 'cuda' if torch.cuda.is_available() else 'cpu'
    data = Data(o.data, device); vocabulary = Vocabulary(data.index['vocabulary'], device)
    model = Network(data.width, vocabulary.outputs, o.front, o.hidden, o.dropout, o.layers, o.attention).to(device)
    mean = {k: v.detach().clone() for k, v in model.state_dict().items()}
    teachers = []
    for path in o.teachers:
        saved = torch.load(path, map_location=device, weights_only=False)
        teacher = Network(data.width, vocabulary.outputs, saved['front'], saved['hidden'], 0, saved['layers'], saved['attention']).to(device)
        teacher.load_state_dict(saved['weights']); teacher.eval(); teachers.append(teacher)
    print(o.out, sum(p.numel() for p in model.parameters()), 'parameters', len(teachers), 'teachers', flush=True)

    def spans(split): return [(w['start'], w['length']) for w in data.works if w['split'] == split and w['length'] > 1]
    def crops_of(spans_, count):
        lengths = torch.tensor([max(1, n) for _, n in spans_], dtype=torch.float)
        pick = torch.multinomial(lengths.clamp(min=24) ** o.sampling, count, replacement=True)
        starts, sizes = [], []
        for i in pick.tolist():
            s, n = spans_[i]
            off = 0 if n <= o.crop else int(torch.randint(-o.crop // 4, n - o.crop + o.crop // 4 + 1, (1,)).clamp(0, n - o.crop))
            starts.append(s + off); sizes.append(min(n, o.crop))
        return torch.tensor(starts, device=device), torch.tensor(sizes, device=device)

    train_spans = spans('Train'); pools = [(1 - o.variations - o.handbook, train_spans), (o.variations, spans('Variation')), (o.handbook, spans('Handbook'))]
    counts = [round(o.batch * share) for share, _ in pools]; counts[0] = o.batch - counts[1] - counts[2]
    per_epoch = max(1, sum(n for _, n in train_spans) // (o.crop * o.batch))
    total = per_epoch * o.epochs
    optimizer = torch.optim.AdamW(model.parameters(), o.rate, weight_decay=o.decay, fused=device == 'cuda')
    began = time.time(); progress = 0.0
    step = 0
    while progress < 1:
        spent = (time.time() - began) / o.limit
        progress = max(step / total, spent)
        for g in optimizer.param_groups: g['lr'] = o.rate * min(1, (step + 1) / 100) * .5 * (1 + math.cos(math.pi * min(1, progress)))
        starts, sizes = (torch.cat(parts) for parts in zip(*(crops_of(own, n) for n, (_, own) in zip(counts, pools) if n)))
        rows = starts[:, None] + torch.arange(o.crop, device=device)[None].clamp(max=o.crop)
        valid = torch.arange(o.crop, device=device)[None] < sizes[:, None]
        rows = rows.clamp(max=data.index['total'] - 1)
        x, label, duration = data.x[rows].float(), data.labels[rows], data.times[rows][..., 1]
        shift = torch.randint(-o.shift, o.shift + 1, (o.batch,), device=device)
        # a third of the crops stay centred on their signature, as all are when the model is used
        shift = torch.where(torch.rand(o.batch, device=device) < .34, torch.zeros_like(shift), shift)
        x = shift_rows(x, shift, data.planes) * valid[..., None]
        for plane in o.without: x[..., plane * PLACES:(plane + 1) * PLACES] = 0
        clean = x
        if o.drop_planes:
            keep = (torch.rand(o.batch, 1, data.planes, 1, device=device) >= o.drop_planes).float().expand(o.batch, o.crop, data.planes, PLACES).reshape(o.batch, o.crop, -1)
            x = torch.cat([x[..., :data.planes * PLACES] * keep, x[..., data.planes * PLACES:]], 2)
        if o.drop_places:
            keep = torch.ones_like(x); keep[..., :data.planes * PLACES] = (torch.rand(o.batch, o.crop, data.planes * PLACES, device=device) >= o.drop_places).float()
            x = x * keep
        tonic = label[..., 0] + shift[:, None] + MIDDLE
        ok = valid & (label[..., 2] >= 0) & (tonic >= 1) & (tonic < PLACES - 1)
        weight = duration.clamp(.0625, 4) ** o.power
        out = model(x)
        picked = out[ok]; w = weight[ok]; w = w / w.sum()
        t, e = tonic[ok], label[..., 2][ok]
        pair = vocabulary.pairs(picked[:, :vocabulary.factors])
        logp = F.log_softmax(pair, 1)
        hard = -logp.gather(1, (t * vocabulary.n + e)[:, None])[:, 0]
        loss = (w * hard).sum()
        if o.smooth_pair: loss = (1 - o.smooth_pair) * loss - o.smooth_pair * (w * logp.mean(1)).sum()
        if teachers:
            with torch.no_grad():
                soft = sum(F.softmax(vocabulary.pairs(m(clean)[ok][:, :vocabulary.factors]), 1) for m in teachers) / len(teachers)
            loss = (1 - o.soft) * loss - o.soft * (w[:, None] * soft * logp).sum()
        for name, classes in vocabulary.targets(t, e).items():
            at, size = vocabulary.at[name]
            loss = loss + o.factor * (w * F.cross_entropy(picked[:, at:at + size], classes, reduction='none', label_smoothing=o.smooth)).sum() / 2
        new = label[..., 3:5].float(); known = valid & (label[..., 1] >= 0)
        loss = loss + .3 * F.binary_cross_entropy_with_logits(out[..., vocabulary.factors:][known], new[known])
        optimizer.zero_grad(set_to_none=True); loss.backward()
        nn.utils.clip_grad_norm_(model.parameters(), 1.0); optimizer.step()
        with torch.no_grad():
            decay = min(.998, (step + 1) / (step + 20))
            for k, v in model.state_dict().items(): mean[k].lerp_(v, 1 - decay)
        step += 1
        if step % (per_epoch * 20) == 0: print(f'{o.out} step {step} {progress:.2f} loss {loss.item():.3f} {time.time() - began:.0f} s', flush=True)
    model.load_state_dict(mean)
    result = measure(model, data, vocabulary, o.without)
    torch.save(dict(weights={k: v.cpu() for k, v in mean.items()}, front=o.front, hidden=o.hidden, layers=o.layers, attention=o.attention, result=result, args=vars(o)), o.out + '.pt')
    if not o.attention: write_weights(o.out + '.bin', model, data, o)
    print('RESULT', os.path.basename(o.out), f'{time.time() - began:.0f} s {step} steps', json.dumps(result), flush=True)


if __name__ == '__main__': main()
