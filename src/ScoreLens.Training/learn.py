#!/usr/bin/env python3
"""Learns the reading model's weights from what `ScoreLens.Training export` wrote. Needs PyTorch and, for training, a GPU.

  learn.py DATA OUT [options]                               train one network on the training works
  learn.py DATA - --teachers A.pt B.pt …                    measure the mean of some networks
  learn.py DATA - --teachers A.pt B.pt … --save-soft FILE   write what they think of every vertical that may be learned from
  learn.py DATA OUT --soft-labels FILE [options]            train a network on that as well
  learn.py DATA OUT.bin --pack A.pt B.pt …                  write the library's weights file: a committee of networks

It learns from works whose split is Train, their variations, other music over their analyses, and handbook progressions; it prints
the shares by duration of right keys and numerals, one vertical at a time and without decoding over time, on the validation
and on the measured works, and writes OUT.pt. Two kinds of network, over the sparse features of each vertical:
--kind places is the same for every place on the line of fifths (a teacher); --kind whole sees the line of fifths as one vector, with
recurrent layers over beats (--beat) and over verticals (what the library runs). Both end in factor scores; a fixed table sums factors to the
score of every pair of key and numeral.
"""
import argparse, glob, gzip, json, math, os, time
import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F
import weights_format

FORMAT = weights_format.FORMAT
PLACES, QUALITIES = FORMAT['places'], len(FORMAT['qualities'])
MIDDLE, SIGNATURE = PLACES // 2, FORMAT['planes'].index('signature')
torch.backends.cuda.matmul.allow_tf32 = True
torch.backends.cudnn.allow_tf32 = True


class Data:
    """All verticals on the device: features, labels, times; and where each work lies."""

    def __init__(self, folder, device):
        # what `export` wrote into the folder, then more invented music in folders beside it: data.1, data.2, …
        folders = [folder, *sorted(glob.glob(folder.rstrip('/') + '.[0-9]*'))]
        indices = [json.load(open(os.path.join(f, 'index.json'))) for f in folders]
        for index in indices: weights_format.check(index)
        self.index = indices[0]; total, width = sum(i['total'] for i in indices), self.index['width']
        self.x = torch.zeros(total, width, dtype=torch.float16, device=device)
        self.works, labels, times, start = [], [], [], 0
        for f, index in zip(folders, indices):
            def raw(name, kind):
                plain = os.path.join(f, name)
                return np.frombuffer(open(plain, 'rb').read() if os.path.exists(plain) else gzip.open(plain + '.gz').read(), kind)
            counts = torch.from_numpy(raw('counts', '<u2').astype(np.int64)).to(device)
            rows = torch.repeat_interleave(torch.arange(start, start + index['total'], device=device), counts)
            self.x[rows, torch.from_numpy(raw('indices', '<u2').astype(np.int32)).to(device).long()] = torch.from_numpy(raw('values', '<f2').copy()).to(device)
            labels.append(raw('labels', '<i2').reshape(-1, 6).astype(np.int64)); times.append(raw('times', '<f4').reshape(-1, 2))
            self.works += [w | dict(start=w['start'] + start) for w in index['works']]
            start += index['total']
        self.index['total'] = total
        self.labels, self.times = (torch.from_numpy(np.concatenate(v)).to(device) for v in (labels, times))
        self.planes, self.width = len(self.index['planes']), width
        # a new beat where another quarter begins
        self.quarter = self.times[:, 0].floor().long()

    def beats(self, rows, valid):
        """Numbers of the beat of each vertical of crops, from 0 in every crop, and the weight of each."""
        quarter = self.quarter[rows]
        new = torch.zeros_like(quarter); new[:, 1:] = (quarter[:, 1:] != quarter[:, :-1]).long()
        return (new * valid).cumsum(1), self.times[rows][..., 1].clamp(.03, 8) * valid


class Vocabulary:
    """The table that sums factors to pairs (key, numeral)."""

    def __init__(self, entries, device):
        entries = [e | dict(mode=FORMAT['modes'].index(e['mode']), quality=FORMAT['qualities'].index(e['quality'])) for e in entries]
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


def pool(h, groups, weight):
    """Means, weighed by duration, of the rows of each group, and the way back to the rows."""
    h, count = h.float(), int(groups.max()) + 1
    at = groups[..., None].expand(-1, -1, h.shape[2])
    sums = torch.zeros(h.shape[0], count, h.shape[2], device=h.device, dtype=h.dtype).scatter_add(1, at, h * weight[..., None])
    norm = torch.zeros(h.shape[0], count, device=h.device, dtype=h.dtype).scatter_add(1, groups, weight)
    return sums / norm.clamp(min=1e-6)[..., None], lambda g: torch.gather(g, 1, groups[..., None].expand(-1, -1, g.shape[2]))


class Whole(nn.Module):
    """Sees the line of fifths as one vector."""

    def __init__(self, width, outputs, front, hidden, dropout, layers, beat, beat_layers):
        super().__init__()
        self.beat = nn.GRU(front, beat, beat_layers, batch_first=True, bidirectional=True, dropout=dropout if beat_layers > 1 else 0) if beat else None
        self.first = nn.Linear(width, front)
        self.norm = nn.LayerNorm(front)
        self.conv = nn.Conv1d(front, front, 3, padding=1)
        self.gru = nn.GRU(front + 2 * beat, hidden, layers, batch_first=True, bidirectional=True, dropout=dropout if layers > 1 else 0)
        self.last = nn.Linear(2 * hidden, outputs)
        self.drop = nn.Dropout(dropout)

    def forward(self, x, beats, weight):
        h = self.drop(F.relu(self.norm(self.first(x))))
        h = self.drop(h + F.relu(self.conv(h.transpose(1, 2)).transpose(1, 2)))
        if self.beat is not None:
            means, back = pool(h, beats, weight)
            b, _ = self.beat(means)
            h = torch.cat([h, self.drop(back(b))], 2)
        h, _ = self.gru(h)
        return self.last(self.drop(h))


class Along(nn.Module):
    """One convolution a channel along the line of fifths, as a product with a banded matrix, which a GPU does far faster."""

    def __init__(self, channels, kernel, places):
        super().__init__()
        self.weight = nn.Parameter(torch.randn(channels, kernel) / kernel ** .5)
        self.bias = nn.Parameter(torch.zeros(channels))
        offset = torch.arange(places)[None] - torch.arange(places)[:, None] + kernel // 2
        self.register_buffer('offset', offset.clamp(0, kernel - 1), persistent=False)
        self.register_buffer('inside', ((offset >= 0) & (offset < kernel)).float(), persistent=False)

    def forward(self, h):
        b, t, p, c = h.shape
        band = self.weight[:, self.offset] * self.inside  # channel, to, from
        return torch.bmm(h.reshape(b * t, p, c).permute(2, 0, 1), band.transpose(1, 2)).permute(1, 2, 0).reshape(b, t, p, c) + self.bias


class Places(nn.Module):
    """The same for every place on the line of fifths: what it learns about one key it knows of all. Each place has its own
    recurrent state; places speak to each other through convolutions along the line, and through sums over all of them."""

    def __init__(self, vocabulary, planes, width, channels, hidden, tail, kernel, window, dropout):
        super().__init__()
        self.planes, self.window, self.vocabulary = planes, window, vocabulary
        self.first = nn.Conv1d(planes, channels, kernel, padding=kernel // 2)
        self.scalars = nn.Linear(width - planes * PLACES, channels)
        self.norm = nn.LayerNorm(channels)
        self.conv = nn.Linear(3 * channels, channels)
        self.along, self.point, self.whole, self.norms, self.grus = (nn.ModuleList() for _ in range(5))
        size = channels
        for _ in range(2):
            self.along.append(Along(size, kernel, window))
            self.point.append(nn.Linear(2 * size, channels))
            self.whole.append(nn.Linear(2 * size, channels))
            self.norms.append(nn.LayerNorm(channels))
            self.grus.append(nn.GRU(channels, hidden, 1, batch_first=True, bidirectional=True))
            size = 2 * hidden + channels
        self.along.append(Along(size, kernel, window))
        self.point.append(nn.Linear(2 * size, tail))
        self.places = nn.Linear(tail, 5)
        self.rest = nn.Sequential(nn.Linear(tail * 4, tail * 2), nn.ReLU(), nn.Dropout(dropout), nn.Linear(tail * 2, 1 + QUALITIES + 4 + vocabulary.classes + 2))
        self.drop = nn.Dropout(dropout)

    def forward(self, x, beats, weight):
        b, t, _ = x.shape
        p, edge = self.window, (PLACES - self.window) // 2
        pitch = x[..., :self.planes * PLACES].reshape(b * t, self.planes, PLACES)
        h = self.first(pitch)[..., edge:edge + p].transpose(1, 2).reshape(b, t, p, -1) + self.scalars(x[..., self.planes * PLACES:])[:, :, None]
        h = self.drop(F.relu(self.norm(h)))
        padded = F.pad(h, (0, 0, 0, 0, 1, 1))
        h = self.drop(h + F.relu(self.conv(torch.cat([padded[:, :-2], h, padded[:, 2:]], 3))))
        for i, gru in enumerate(self.grus):
            whole = self.whole[i](torch.cat([h.mean(2), h.amax(2)], 2))
            z = self.drop(F.relu(self.norms[i](self.point[i](torch.cat([h, self.along[i](h)], 3)) + whole[:, :, None])))
            if i == 0:
                means, back = pool(z.reshape(b, t, -1), beats, weight)
                n = means.shape[1]
                g, _ = gru(means.view(b, n, p, -1).transpose(1, 2).reshape(b * p, n, -1))
                g = back(g.view(b, p, n, -1).transpose(1, 2).reshape(b, n, -1)).view(b, t, p, -1)
            else:
                g, _ = gru(z.transpose(1, 2).reshape(b * p, t, -1))
                g = g.view(b, p, t, -1).transpose(1, 2)
            h = torch.cat([z, self.drop(g)], 3)
        f = self.drop(F.relu(self.point[2](torch.cat([h, self.along[2](h)], 3))))
        at = self.places(f)
        share = torch.cat([at[..., 0], at[..., 1]], 2).softmax(2)
        by = lambda w: (w[..., None] * f).sum(2)
        rest = self.rest(torch.cat([by(share[..., :p] + share[..., p:]), by(at[..., 2].softmax(2)), by(at[..., 3].softmax(2)), f.amax(2)], 2))
        full = F.pad(at, (0, 0, edge, edge), value=-12.)
        return torch.cat([*(full[..., k] for k in range(5)), rest], 2)


def build(data, vocabulary, o):
    if o['kind'] == 'places':
        return Places(vocabulary, data.planes, data.width, o['channels'], o['hidden'], o['tail'], o['kernel'], o['window'], o['dropout'])
    return Whole(data.width, vocabulary.outputs, o['front'], o['hidden'], o['dropout'], o['layers'], o['beat'], o['beat_layers'])


def shift_rows(x, shift, planes):
    """Moves every plane of each crop by its own number of places."""
    b, t, w = x.shape
    pitch = x[..., :planes * PLACES].view(b, t, planes, PLACES)
    source = torch.arange(PLACES, device=x.device)[None] - shift[:, None]
    inside = (source >= 0) & (source < PLACES)
    moved = torch.gather(pitch, 3, source.clamp(0, PLACES - 1)[:, None, None].expand(b, t, planes, PLACES)) * inside[:, None, None]
    return torch.cat([moved.reshape(b, t, -1), x[..., planes * PLACES:]], 2)


def measure(models, data, vocabulary):
    """Shares by duration, per repertoire and split, one vertical at a time, of the mean of some networks."""
    for model in models: model.eval()
    sums = {}
    with torch.no_grad():
        for work in data.works:
            if work['split'] not in ('Validation', 'Measure') or work['length'] == 0: continue
            s = slice(work['start'], work['start'] + work['length'])
            label, duration = data.labels[s], data.times[s, 1]
            x = data.x[s].float()[None]
            rows = torch.arange(work['start'], work['start'] + work['length'], device=x.device)[None]
            outs = [m(x, *data.beats(rows, torch.ones_like(rows)))[0] for m in models]
            best = []
            for chunks in zip(*(out.split(2048) for out in outs)):
                pairs = [vocabulary.pairs(chunk[:, :vocabulary.factors]) for chunk in chunks]
                best.append((pairs[0] if len(pairs) == 1 else sum(F.softmax(p, 1) for p in pairs)).argmax(1))
            best = torch.cat(best)
            tonic, entry = best // vocabulary.n, best % vocabulary.n
            known = label[:, 1] >= 0
            key = known & (tonic - MIDDLE == label[:, 0]) & (vocabulary.mode[entry] == label[:, 1])
            numeral = key & (entry == label[:, 2])
            at = sums.setdefault((work['split'], work['repertoire']), [0, 0, 0])
            at[0] += (duration * known).sum().item(); at[1] += (duration * key).sum().item(); at[2] += (duration * numeral).sum().item()
    for model in models: model.train()
    return {f'{s}/{r}': (round(n / t, 4), round(k / t, 4)) for (s, r), (t, k, n) in sorted(sums.items())}


SOFT = 16  # pairs kept of every vertical


def save_soft(path, teachers, data, vocabulary):
    """What the teachers think of every vertical of the training works and their variations: the likeliest pairs and their shares."""
    pairs = torch.zeros(data.index['total'], SOFT, dtype=torch.int32); shares = torch.zeros(data.index['total'], SOFT, dtype=torch.float16)
    device, length, margin, windows = data.x.device, 384, 64, []
    for work in data.works:
        if work['split'] not in ('Train', 'Variation', 'Texture'): continue
        for at in range(0, work['length'], length - 2 * margin):
            start = max(0, min(at - margin, work['length'] - length))
            windows.append((work['start'] + start, min(length, work['length'] - start), work['start'] + at, min(length - 2 * margin, work['length'] - at)))
    for i in range(0, len(windows), 64):
        part = windows[i:i + 64]
        rows = (torch.tensor([w[0] for w in part], device=device)[:, None] + torch.arange(length, device=device)).clamp(max=data.index['total'] - 1)
        valid = torch.arange(length, device=device)[None] < torch.tensor([w[1] for w in part], device=device)[:, None]
        x = data.x[rows].float() * valid[..., None]
        with torch.no_grad():
            outs = [m(x, *data.beats(rows, valid.long())) for m in teachers]
            for n, (start, _, at, size) in enumerate(part):
                mean = sum(F.softmax(vocabulary.pairs(out[n, at - start:at - start + size, :vocabulary.factors]), 1) for out in outs) / len(outs)
                top = mean.topk(SOFT, 1)
                pairs[at:at + size], shares[at:at + size] = top.indices.int().cpu(), (top.values / top.values.sum(1, keepdim=True)).half().cpu()
    torch.save((pairs, shares), path)


def write_weights(path, saved, vocabulary):
    """The file that the library embeds."""
    def plain(value):
        value = value.detach().cpu().float()
        return (value.reshape(value.shape[0], -1) if value.dim() > 1 else value).tolist()
    networks = [(network['args'], {name: plain(value) for name, value in network['weights'].items()}) for network in saved]
    weights_format.write(path, [[v[key] for key in FORMAT['numeral']] for v in vocabulary], networks)


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument('data'); ap.add_argument('out')
    ap.add_argument('--pack', nargs='*', default=[], help='write the library\'s weights file from these networks')
    ap.add_argument('--front', type=int, default=192); ap.add_argument('--hidden', type=int, default=32); ap.add_argument('--layers', type=int, default=2)
    ap.add_argument('--dropout', type=float, default=.3)
    ap.add_argument('--epochs', type=int, default=260); ap.add_argument('--batch', type=int, default=32); ap.add_argument('--crop', type=int, default=192)
    ap.add_argument('--rate', type=float, default=2e-3); ap.add_argument('--decay', type=float, default=.01); ap.add_argument('--seed', type=int, default=1)
    ap.add_argument('--smooth', type=float, default=.05); ap.add_argument('--factor', type=float, default=.15); ap.add_argument('--power', type=float, default=.5)
    ap.add_argument('--drop-places', type=float, default=.05); ap.add_argument('--shift', type=int, default=6)
    ap.add_argument('--teachers', nargs='*', default=[]); ap.add_argument('--soft', type=float, default=.7)
    ap.add_argument('--limit', type=float, default=1e9, help='seconds after which the schedule is cut short')
    ap.add_argument('--variations', type=float, default=.3, help='share of crops from variations of the works'); ap.add_argument('--handbook', type=float, default=.1, help='share of crops from handbook progressions')
    ap.add_argument('--texture', type=float, default=0, help='share of crops from other music over the same analyses')
    ap.add_argument('--sampling', type=float, default=1, help='a work is drawn by its length to this power'); ap.add_argument('--smooth-pair', type=float, default=0)
    ap.add_argument('--drop-planes', type=float, default=0, help='share of planes left out, a crop at a time')
    ap.add_argument('--beat', type=int, default=0, help='hidden size of a recurrent layer over beats'); ap.add_argument('--beat-layers', type=int, default=1)
    ap.add_argument('--kind', choices=['places', 'whole'], default='places'); ap.add_argument('--channels', type=int, default=32); ap.add_argument('--tail', type=int, default=48); ap.add_argument('--window', type=int, default=31)
    ap.add_argument('--soft-labels', help='what --save-soft wrote, in place of teachers'); ap.add_argument('--save-soft', help='write what the teachers read, for --soft-labels'); ap.add_argument('--foreign', type=float, default=.1, help='share of crops written with a signature that is not theirs'); ap.add_argument('--kernel', type=int, default=15)
    ap.add_argument('--even', type=float, default=0, help='a short crop weighs by its own sum to 1 less this')
    ap.add_argument('--half', action='store_true', help='run the network in bfloat16')
    ap.add_argument('--drop-crop', type=float, default=0, help='share of places left out for a whole crop')
    o = ap.parse_args()
    if o.pack:
        write_weights(o.out, [torch.load(path, map_location='cpu') for path in o.pack], json.load(open(os.path.join(o.data, 'index.json')))['vocabulary'])
        return
    torch.manual_seed(o.seed); device = 'cuda' if torch.cuda.is_available() else 'cpu'
    data = Data(o.data, device); vocabulary = Vocabulary(data.index['vocabulary'], device)
    model = build(data, vocabulary, vars(o)).to(device)
    mean = {k: v.detach().clone() for k, v in model.state_dict().items()}
    teachers = []
    for path in o.teachers:
        saved = torch.load(path, map_location=device, weights_only=False)
        teacher = build(data, vocabulary, saved['args']).to(device)
        teacher.load_state_dict({k: v.float() for k, v in saved['weights'].items()}); teacher.eval(); teachers.append(teacher)
    if o.out == '-':
        for group in ['', *sorted({os.path.basename(p)[0] for p in o.teachers})]:
            own = [t for t, p in zip(teachers, o.teachers) if os.path.basename(p).startswith(group)]
            print('MEAN', group or 'all', len(own), json.dumps(measure(own, data, vocabulary)), flush=True)
        return
    if o.save_soft:
        save_soft(o.save_soft, teachers, data, vocabulary)
        return
    soft_pairs, soft_shares = (t.to(device) for t in torch.load(o.soft_labels)) if o.soft_labels else (None, None)
    print(o.out, sum(p.numel() for p in model.parameters()), 'parameters', len(teachers), 'teachers', flush=True)

    def spans(split):
        own = [(w['start'], w['length']) for w in data.works if w['split'] == split and w['length'] > 1]
        return own, torch.tensor([n for _, n in own] or [1], dtype=torch.float).clamp(min=24) ** o.sampling
    def crops_of(pool, count):
        own, weights = pool
        starts, sizes = [], []
        for i in torch.multinomial(weights, count, replacement=True).tolist():
            s, n = own[i]
            off = 0 if n <= o.crop else int(torch.randint(-o.crop // 4, n - o.crop + o.crop // 4 + 1, (1,)).clamp(0, n - o.crop))
            starts.append(s + off); sizes.append(min(n, o.crop))
        return torch.tensor(starts, device=device), torch.tensor(sizes, device=device)

    train_spans = spans('Train'); pools = [(1 - o.variations - o.handbook - o.texture, train_spans), (o.variations, spans('Variation')), (o.handbook, spans('Handbook')), (o.texture, spans('Texture'))]
    counts = [round(o.batch * share) for share, _ in pools]; counts[0] = o.batch - sum(counts[1:])
    per_epoch = max(1, sum(n for _, n in train_spans[0]) // (o.crop * o.batch))
    total = per_epoch * o.epochs
    optimizer = torch.optim.AdamW(model.parameters(), o.rate, weight_decay=o.decay, **(dict(fused=True) if device == 'cuda' else {}))
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
        foreign = torch.rand(o.batch, device=device) < o.foreign
        if o.kind == 'places': shift = torch.where(foreign, shift, torch.zeros_like(shift))
        signature = x[..., SIGNATURE * PLACES:(SIGNATURE + 1) * PLACES]
        x = shift_rows(x, shift, data.planes)
        x[..., SIGNATURE * PLACES:(SIGNATURE + 1) * PLACES] = torch.where(foreign[:, None, None], signature, x[..., SIGNATURE * PLACES:(SIGNATURE + 1) * PLACES])
        x = x * valid[..., None]
        if o.drop_planes:
            keep = (torch.rand(o.batch, 1, data.planes, 1, device=device) >= o.drop_planes).float().expand(o.batch, o.crop, data.planes, PLACES).reshape(o.batch, o.crop, -1)
            x = torch.cat([x[..., :data.planes * PLACES] * keep, x[..., data.planes * PLACES:]], 2)
        if o.drop_crop:
            keep = (torch.rand(o.batch, 1, data.planes * PLACES, device=device) >= o.drop_crop).float()
            x = torch.cat([x[..., :data.planes * PLACES] * keep, x[..., data.planes * PLACES:]], 2)
        if o.drop_places:
            keep = torch.ones_like(x); keep[..., :data.planes * PLACES] = (torch.rand(o.batch, o.crop, data.planes * PLACES, device=device) >= o.drop_places).float()
            x = x * keep
        tonic = label[..., 0] + shift[:, None] + MIDDLE
        ok = valid & (label[..., 2] >= 0) & (tonic >= 1) & (tonic < PLACES - 1)
        weight = duration.clamp(.0625, 4) ** o.power
        if o.even: weight = weight / (weight * ok).sum(1, keepdim=True).clamp(min=1) ** o.even
        with torch.autocast(device, dtype=torch.bfloat16, enabled=o.half):
            out = model(x, *data.beats(rows, valid.long()))
        out = out.float()
        picked = out[ok]; w = weight[ok]; w = w / w.sum()
        t, e = tonic[ok], label[..., 2][ok]
        pair = vocabulary.pairs(picked[:, :vocabulary.factors])
        logp = F.log_softmax(pair, 1)
        hard = -logp.gather(1, (t * vocabulary.n + e)[:, None])[:, 0]
        loss = (w * hard).sum()
        if o.smooth_pair: loss = (1 - o.smooth_pair) * loss - o.smooth_pair * (w * logp.mean(1)).sum()
        if o.soft_labels:
            at = (soft_pairs[rows[ok]].long() + (shift[:, None].expand_as(label[..., 0])[ok] * vocabulary.n)[:, None]).clamp(0, PLACES * vocabulary.n - 1)
            share = soft_shares[rows[ok]].float()
            own = torch.where(share.sum(1) > 0, o.soft, 0.)
            loss = (w * (1 - own) * hard).sum() - (w * own * (share * logp.gather(1, at)).sum(1)).sum()
        for name, classes in vocabulary.targets(t, e).items():
            at, size = vocabulary.at[name]
            loss = loss + o.factor * (w * F.cross_entropy(picked[:, at:at + size], classes, reduction='none', label_smoothing=o.smooth)).sum()
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
    result = measure([model], data, vocabulary)
    torch.save(dict(weights={k: v.half().cpu() for k, v in mean.items()}, result=result, args=vars(o)), o.out + '.pt')
    print('RESULT', os.path.basename(o.out), f'{time.time() - began:.0f} s {step} steps', json.dumps(result), flush=True)


if __name__ == '__main__': main()
