#!/usr/bin/env python3
"""Learns the reading model's weights from what `ScoreLens.Training export` wrote. Needs PyTorch and, for training, a GPU.

  learn.py DATA train OUT.pt [options]                          train a network on the analysed works and what is made of them
  learn.py DATA train OUT.pt --soft-labels PART … [options]     and on what teachers think of every vertical, analysed or not
  learn.py DATA soft PART --teachers A.pt B.bin … --shard 0/4   write what teachers think of a share of the verticals
  learn.py DATA measure --teachers A.pt B.bin …                 measure the mean of some networks on the validation works
  learn.py DATA pack OUT.bin --teachers A.pt B.pt …             write the library's weights file: a committee of networks

A network is a .pt that was trained here, or a .bin that the library carries. Figures are shares by duration of right numerals and keys, one
vertical at a time and without the search over time. See lessons.py for the data, networks.py for the networks.
"""
import argparse, json, math, time
import torch
import torch.nn as nn
import torch.nn.functional as F
import weights_format
from lessons import FORMAT, MIDDLE, PLACES, SIGNATURE, SOFT, Data, SoftLabels, Vocabulary, columns
from networks import build

torch.backends.cuda.matmul.allow_tf32 = True
torch.backends.cudnn.allow_tf32 = True
TAUGHT = ('Train', 'Variation', 'Texture', 'Unlabelled')  # what teachers are asked about; the rest is known exactly, or strange to them


def widened(weights, named, kind):
    """The weights of a network that knew other features: what it did not know weighs nothing at first."""
    if all(named[key] == FORMAT[key] for key in ('planes', 'scalars')): return weights
    weights = dict(weights)
    if kind == 'whole':
        first = torch.zeros(len(weights['first.weight']), len(FORMAT['planes']) * PLACES + len(FORMAT['scalars']))
        first[:, columns(named)] = weights['first.weight'].float()
        weights['first.weight'] = first
    else:
        first = torch.zeros(len(weights['first.weight']), len(FORMAT['planes']), weights['first.weight'].shape[2])
        first[:, [FORMAT['planes'].index(n) for n in named['planes']]] = weights['first.weight'].float()
        scalars = torch.zeros(len(weights['scalars.weight']), len(FORMAT['scalars']))
        scalars[:, [FORMAT['scalars'].index(n) for n in named['scalars']]] = weights['scalars.weight'].float()
        weights['first.weight'], weights['scalars.weight'] = first, scalars
    return weights


def load(path, data, device):
    """The networks of a file, each with its vocabulary."""
    if path.endswith('.bin'):
        header, networks = weights_format.read(path)
        entries = [dict(zip(FORMAT['numeral'], e)) | dict(bass=0) for e in header['vocabulary']]
        saved = []
        for sizes, arrays in networks:
            args = sizes | dict(kind='whole', dropout=0, beat=len(arrays['beat.weight_hh_l0'][0]))
            weights = {name: torch.tensor(value) for name, value in arrays.items()}
            weights['conv.weight'] = weights['conv.weight'].reshape(sizes['front'], sizes['front'], 3)
            saved.append((args, weights))
        basses = {tuple(e[k] for k in FORMAT['numeral']): e['bass'] for e in data.vocabulary}
        for e in entries: e['bass'] = basses.get(tuple(e[k] for k in FORMAT['numeral']), e['root'])
    else:
        file = torch.load(path, map_location='cpu')
        saved, entries, header = [(file['args'], file['weights'])], file['vocabulary'], file['features']
    vocabulary = Vocabulary(entries, device)
    for args, weights in saved:
        model = build(data, vocabulary, args).to(device)
        model.load_state_dict({k: v.float() for k, v in widened(weights, header, args['kind']).items()})
        yield model.eval(), vocabulary


def measure(models, data, own):
    """Shares by duration, per repertoire, of the mean of some networks on the validation works."""
    sums = {}
    with torch.no_grad():
        for work in data.works:
            if work['split'] != 'Validation': continue
            rows = torch.arange(work['start'], work['start'] + work['length'], device=data.x.device)
            label, duration = data.labels[rows].long(), data.times[rows, 1]
            probabilities = mean_of(models, data, own, rows[None], torch.ones_like(rows)[None])[0]
            best = probabilities.argmax(1)
            tonic, entry = best // own.n, best % own.n
            known = label[:, 1] >= 0
            key = known & (tonic - MIDDLE == label[:, 0]) & (own.mode[entry] == label[:, 1])
            at = sums.setdefault(work['repertoire'], [0, 0, 0])
            for i, right in enumerate((known, key, key & (entry == label[:, 2]))): at[i] += (duration * right).sum().item()
    return {r: f'{n / t:.3f}/{k / t:.3f}' for r, (t, k, n) in sorted(sums.items())}


def mean_of(models, data, own, rows, valid, keep=None, split=4096):
    """The mean of the networks' probabilities of pairs at the verticals to keep, their agreement, the mean of their last two factors."""
    keep = valid.bool() if keep is None else keep
    x = data.x[rows].float() * valid[..., None]
    outs = [(model(x, *data.beats(rows, valid)).float()[keep], vocabulary) for model, vocabulary in models]
    means, agreements = [], []
    for at in range(0, len(outs[0][0]), split):
        total, least = 0, None
        for out, vocabulary in outs:
            p = F.softmax(vocabulary.pairs(out[at:at + split, :vocabulary.factors]), 1)
            if vocabulary.entries != own.entries:
                place = vocabulary.__dict__.setdefault('places_in_own', own.known(vocabulary))
                p = torch.zeros(len(p), PLACES * own.n + 1, device=p.device).index_add_(1, place, p)[:, :-1]
            total, least = total + p / len(outs), p if least is None else torch.minimum(least, p)
        means.append(total); agreements.append(least.sum(1))
    new = sum(torch.sigmoid(out[:, vocabulary.factors:]) for out, vocabulary in outs) / len(outs)
    return torch.cat(means), torch.cat(agreements), new


def write_soft(path, models, data, own, shard, shards):
    """What teachers think of a share of the music, in windows that overlap so that every vertical has neighbours."""
    soft, device, length, margin, windows = SoftLabels(data.total), data.x.device, 384, 64, []
    for work in [w for w in data.works if w['split'] in TAUGHT][shard::shards]:
        for at in range(0, work['length'], length - 2 * margin):
            start = max(0, min(at - margin, work['length'] - length))
            size = min(length - 2 * margin, work['length'] - at)
            windows.append((work['start'] + start, min(length, work['length'] - start), at - start, at - start + size))
    offset = torch.arange(length, device=device)
    for i in range(0, len(windows), 32):
        start, size, first, end = torch.tensor(windows[i:i + 32], device=device).T[..., None]
        rows = (start + offset).clamp(max=data.total - 1)
        keep = (offset >= first) & (offset < end)
        with torch.no_grad(): mean, agreement, new = mean_of(models, data, own, rows, (offset < size).long(), keep)
        top, at = mean.topk(SOFT, 1), rows[keep].cpu()
        soft.pairs[at], soft.shares[at] = top.indices.int().cpu(), (top.values / top.values.sum(1, keepdim=True)).half().cpu()
        soft.new[at], soft.agreement[at] = new.half().cpu(), agreement.half().cpu()
    soft.save(path)


def pack(path, files, data):
    """Writes the library's weights file."""
    saved = [torch.load(f, map_location='cpu') for f in files]
    def plain(value):
        value = value.float()
        return (value.reshape(value.shape[0], -1) if value.dim() > 1 else value).tolist()
    networks = [(s['args'], {name: plain(value) for name, value in s['weights'].items()}) for s in saved]
    weights_format.write(path, [[v[key] for key in FORMAT['numeral']] for v in saved[0]['vocabulary']], networks)


def shifted(x, shift, planes):
    """Moves every plane of each crop by its own number of places."""
    b, t, _ = x.shape
    pitch = x[..., :planes * PLACES].view(b, t, planes, PLACES)
    source = torch.arange(PLACES, device=x.device)[None] - shift[:, None]
    inside = (source >= 0) & (source < PLACES)
    moved = torch.gather(pitch, 3, source.clamp(0, PLACES - 1)[:, None, None].expand(b, t, planes, PLACES)) * inside[:, None, None]
    return torch.cat([moved.reshape(b, t, -1), x[..., planes * PLACES:]], 2)


class Crops:
    """Draws crops of the music: a share of each kind, works by their length to some power."""

    def __init__(self, data, o, device):
        shares = dict(
            Variation=o.variations, Clothed=o.clothed, Texture=o.texture, Handbook=o.handbook, Unlabelled=o.unlabelled, Heard=o.heard)
        shares['Train'] = 1 - sum(shares.values())
        self.size, self.device, self.last, self.pools = o.crop, device, data.total - 1, []
        left = o.batch
        for kind, share in shares.items():
            works = torch.tensor([(w['start'], w['length']) for w in data.works if w['split'] == kind])
            count = left if kind == 'Train' else min(left, round(o.batch * share)) if len(works) else 0
            left -= count
            if count: self.pools.append((works, works[:, 1].float().clamp(min=24) ** o.sampling, count))

    def draw(self):
        """Rows of the crops and which of them are inside."""
        parts = []
        for works, weights, count in self.pools:
            start, length = works[torch.multinomial(weights, count, replacement=True)].T
            room = (length - self.size).clamp(min=0)
            off = ((torch.rand(count) * 1.5 - .25) * (room + 1)).long().clamp(min=0).minimum(room)
            parts.append(torch.stack([start + off, length.clamp(max=self.size)]))
        start, size = torch.cat(parts, 1).to(self.device)[..., None]
        offset = torch.arange(self.size, device=self.device)
        return (start + offset).clamp(max=self.last), offset < size


def train(path, data, own, o, device):
    torch.manual_seed(o.seed)
    model = build(data, own, vars(o)).to(device)
    if o.start:
        file = torch.load(o.start, map_location='cpu')
        model.load_state_dict({k: v.float().to(device) for k, v in widened(file['weights'], file['features'], o.kind).items()})
    mean = [v.detach().clone() for v in model.state_dict().values()]
    soft = SoftLabels.load(o.soft_labels, device) if o.soft_labels else None
    print(path, sum(p.numel() for p in model.parameters()), 'parameters', flush=True)
    crops, planes = Crops(data, o, device), data.planes * PLACES
    optimizer = torch.optim.AdamW(model.parameters(), o.rate, weight_decay=o.decay, **(dict(fused=True) if device == 'cuda' else {}))
    began, step, progress = time.time(), 0, 0.
    while progress < 1:
        progress = max(step / o.steps, (time.time() - began) / o.limit)
        for g in optimizer.param_groups: g['lr'] = o.rate * min(1, (step + 1) / 200) * .5 * (1 + math.cos(math.pi * min(1, progress)))
        rows, valid = crops.draw()
        label, duration = data.labels[rows].long(), data.times[rows][..., 1]
        # Some crops are written with a signature that is not theirs; a network that sees the line as one vector is shown all of it.
        shift = torch.randint(-o.shift, o.shift + 1, (len(rows),), device=device)
        shift[torch.rand(len(rows), device=device) < .34] = 0
        foreign = torch.rand(len(rows), device=device) < o.foreign
        if o.kind == 'places': shift = torch.where(foreign, shift, torch.zeros_like(shift))
        x = data.x[rows].float()
        signature = x[..., SIGNATURE * PLACES:(SIGNATURE + 1) * PLACES].clone()
        x = shifted(x, shift, data.planes)
        own_signature = x[..., SIGNATURE * PLACES:(SIGNATURE + 1) * PLACES]
        own_signature.copy_(torch.where(foreign[:, None, None], signature, own_signature))
        x *= valid[..., None]
        if o.drop_planes:
            kept = torch.rand(len(rows), 1, data.planes, 1, device=device) >= o.drop_planes
            x[..., :planes] *= kept.expand(-1, -1, -1, PLACES).reshape(len(rows), 1, planes)
        if o.drop_places: x[..., :planes] *= torch.rand(*x.shape[:2], planes, device=device) >= o.drop_places
        tonic, entry = label[..., 0] + shift[:, None] + MIDDLE, label[..., 2]
        hard = valid & (entry >= 0) & (tonic >= 1) & (tonic < PLACES - 1)
        weight = duration.clamp(.0625, 4) ** o.power
        if soft is not None:
            taught = valid & (soft.shares[rows, 0] > 0)
            doubt = taught & data.read[rows]
            weight = torch.where(doubt, weight * (o.doubtful + (1 - o.doubtful) * soft.agreement[rows].float()), weight)
            learned = hard | doubt
        else: taught, learned = torch.zeros_like(hard), hard
        if o.even: weight = weight / (weight * learned).sum(1, keepdim=True).clamp(min=1) ** o.even
        with torch.autocast(device, dtype=torch.bfloat16, enabled=o.half): out = model(x, *data.beats(rows, valid.long()))
        out = out.float()
        picked, w = out[learned], weight[learned] / weight[learned].sum()
        is_hard, t, e = hard[learned], tonic[learned].clamp(0, PLACES - 1), entry[learned].clamp(min=0)
        logp = F.log_softmax(own.pairs(picked[:, :own.factors]), 1)
        by_label = -logp.gather(1, (t * own.n + e)[:, None])[:, 0]
        by_label = (1 - o.smooth_pair) * by_label - o.smooth_pair * logp.mean(1)
        trust = torch.zeros_like(w)
        loss = 0
        if soft is not None:
            at = soft.pairs[rows[learned]].long() + (shift[:, None].expand_as(tonic)[learned] * own.n)[:, None]
            inside = (at >= 0) & (at < PLACES * own.n)
            share = soft.shares[rows[learned]].float() * inside
            own_reading = torch.where(data.read[rows[learned]], 1 - o.decided, o.soft)
            trust = torch.where(taught[learned], torch.where(is_hard, own_reading, 1.), 0.)
            loss = -(w * trust * (share * logp.gather(1, at.clamp(0, PLACES * own.n - 1))).sum(1)).sum()
        loss = loss + (w * is_hard * (1 - trust) * by_label).sum()
        for name, classes in own.targets(t, e).items():
            first, size = own.at[name]
            of = F.cross_entropy(picked[:, first:first + size], classes, reduction='none', label_smoothing=o.smooth)
            loss = loss + o.factor * (w * is_hard * of).sum()
        new, known = label[..., 3:5].float(), valid & (label[..., 1] >= 0)
        if soft is not None: new, known = torch.where(known[..., None], new, soft.new[rows].float()), known | taught
        loss = loss + .3 * F.binary_cross_entropy_with_logits(out[..., own.factors:][known], new[known])
        optimizer.zero_grad(set_to_none=True); loss.backward()
        nn.utils.clip_grad_norm_(model.parameters(), 1.0); optimizer.step()
        with torch.no_grad():
            kept = min(.998, (step + 1) / (step + 20))
            torch._foreach_mul_(mean, kept); torch._foreach_add_(mean, list(model.state_dict().values()), alpha=1 - kept)
        step += 1
        if step % o.report == 0: print(f'{path} step {step} {progress:.2f} loss {loss.item():.3f} {time.time() - began:.0f} s', flush=True)
    weights = {k: v.half() for k, v in zip(model.state_dict(), mean)}
    model.load_state_dict(weights); model.eval()
    result = measure([(model, own)], data, own)
    torch.save(dict(weights={k: v.cpu() for k, v in weights.items()}, result=result, args=vars(o), vocabulary=data.vocabulary,
                    features={key: FORMAT[key] for key in ('planes', 'scalars')}), path)
    print('RESULT', path, f'{time.time() - began:.0f} s {step} steps', json.dumps(result), flush=True)


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    def add(name, kind, default, text): ap.add_argument(name, type=kind, default=default, help=text)
    ap.add_argument('data'); ap.add_argument('verb', choices=['train', 'soft', 'measure', 'pack']); ap.add_argument('out', nargs='?')
    ap.add_argument('--teachers', nargs='*', default=[], help='networks: .pt or .bin files')
    ap.add_argument('--soft-labels', nargs='*', default=[], help='parts that `soft` wrote')
    add('--shard', str, '0/1', 'which share of the music, of how many')
    ap.add_argument('--kind', choices=['places', 'whole'], default='whole'); add('--start', str, None, 'a network to go on from')
    sizes = dict(front=192, hidden=128, layers=2, beat=96, channels=48, tail=64, window=31, kernel=15)
    for name, size in sizes.items(): add(f'--{name}', int, size, 'size')
    add('--beat-layers', int, 2, 'size'); add('--dropout', float, .12, 'share of a layer')
    add('--steps', float, 1e9, 'steps'); add('--limit', float, 1e9, 'seconds after which the schedule ends')
    add('--report', int, 200, 'steps')
    add('--batch', int, 96, 'crops'); add('--crop', int, 192, 'verticals'); add('--seed', int, 1, 'random numbers')
    add('--rate', float, 3e-3, 'learning rate'); add('--decay', float, .01, 'weight decay')
    add('--smooth', float, .05, 'of labels, factor by factor'); add('--smooth-pair', float, 0, 'of labels, pair by pair')
    add('--factor', float, .2, 'weight of each factor\'s own loss')
    add('--power', float, .5, 'a vertical weighs by its duration to this power')
    add('--even', float, .4, 'a short crop weighs by its own sum to 1 less this')
    add('--sampling', float, .45, 'a work is drawn by its length to this power')
    add('--drop-places', float, .05, 'share of places left out')
    add('--drop-planes', float, 0, 'share of planes left out, a crop at a time')
    add('--shift', int, 6, 'fifths that a crop may be moved by')
    add('--foreign', float, .1, 'share of crops under a signature that is not theirs')
    add('--soft', float, .9, 'trust in teachers where experts spoke'); add('--doubtful', float, .25, 'weight of what teachers disagree on')
    add('--decided', float, .3, 'trust in the library\'s own decided reading beside teachers')
    kinds = dict(variations=.2, clothed=.04, texture=.16, handbook=.12, unlabelled=0., heard=0.)
    for kind, share in kinds.items(): add(f'--{kind}', float, share, 'share of crops')
    ap.add_argument('--half', action='store_true', help='run the network in bfloat16')
    o = ap.parse_args()
    device = 'cuda' if torch.cuda.is_available() else 'cpu'
    if o.verb == 'pack': return pack(o.out, o.teachers, o.data)
    data = Data(o.data, device)
    own = Vocabulary(data.vocabulary, device)
    if o.verb == 'train': return train(o.out, data, own, o, device)
    models = [pair for path in o.teachers for pair in load(path, data, device)]
    if o.verb == 'soft': return write_soft(o.out, models, data, own, *map(int, o.shard.split('/')))
    print(len(models), 'networks', json.dumps(measure(models, data, own)))


if __name__ == '__main__': main()
