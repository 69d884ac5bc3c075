"""What a network learns from: the verticals that `ScoreLens.Training export` wrote, the table of numerals, and what teachers think."""
import glob, json, os
import numpy as np
import torch
import weights_format

FORMAT = weights_format.FORMAT
PLACES, QUALITIES = FORMAT['places'], len(FORMAT['qualities'])
MIDDLE, SIGNATURE = PLACES // 2, FORMAT['planes'].index('signature')
SOFT = 12  # pairs of key and numeral that are kept of what teachers think of a vertical


class Data:
    """All verticals on the device: features, labels, times; and where each work lies. FOLDER holds the works; folders beside it, FOLDER.1,
    FOLDER.2 and so on, hold more invented music and the music that nobody analysed."""

    def __init__(self, folder, device):
        folders = [folder, *sorted(glob.glob(folder.rstrip('/') + '.*'))]
        indices = [json.load(open(os.path.join(f, 'index.json'))) for f in folders]
        for index in indices:
            weights_format.check(index)
            if index['vocabulary'] != indices[0]['vocabulary']: raise SystemExit('the folders have different vocabularies')
        self.vocabulary, self.width = indices[0]['vocabulary'], indices[0]['width']
        self.planes, self.total = len(FORMAT['planes']), sum(i['total'] for i in indices)
        self.x = torch.zeros(self.total, self.width, dtype=torch.float16, device=device)
        self.works, labels, times, start = [], [], [], 0
        for f, index in zip(folders, indices):
            raw = lambda name, kind: np.fromfile(os.path.join(f, name), kind)
            counts = torch.from_numpy(raw('counts', '<u2').astype(np.int64)).to(device)
            rows = torch.repeat_interleave(torch.arange(start, start + index['total'], device=device), counts)
            columns = torch.from_numpy(raw('indices', '<u2').astype(np.int32)).to(device).long()
            self.x[rows, columns] = torch.from_numpy(raw('values', '<f2')).to(device)
            labels.append(raw('labels', '<i2').reshape(-1, 6)); times.append(raw('times', '<f4').reshape(-1, 2))
            self.works += [w | dict(start=w['start'] + start) for w in index['works'] if w['length'] > 1]
            start += index['total']
        # which verticals no expert has spoken of: what stands there is the library's own reading
        self.read = torch.zeros(self.total, dtype=torch.bool, device=device)
        for w in self.works:
            if w['split'] in ('Unlabelled', 'Heard'): self.read[w['start']:w['start'] + w['length']] = True
        self.labels, self.times = (torch.from_numpy(np.concatenate(v)).to(device) for v in (labels, times))
        # a new beat where another quarter begins
        self.quarter = self.times[:, 0].floor().long()

    def beats(self, rows, valid):
        """Numbers of the beat of each vertical of crops, from 0 in every crop, and the weight of each."""
        quarter = self.quarter[rows]
        new = torch.zeros_like(quarter); new[:, 1:] = (quarter[:, 1:] != quarter[:, :-1]).long()
        return (new * valid).cumsum(1), self.times[rows][..., 1].clamp(.03, 8) * valid


def columns(named):
    """The columns of the data that a network sees which knows other features: those that it names, in its order."""
    planes = [FORMAT['planes'].index(name) for name in named['planes']]
    scalars = [FORMAT['scalars'].index(name) for name in named['scalars']]
    return [p * PLACES + i for p in planes for i in range(PLACES)] + [len(FORMAT['planes']) * PLACES + i for i in scalars]


class Vocabulary:
    """The table that sums factors to pairs of key and numeral."""

    def __init__(self, entries, device):
        number = lambda kind, name: FORMAT[kind].index(name)
        column = lambda f: torch.tensor([f(e) for e in entries], device=device)
        self.entries = [tuple(e[key] for key in FORMAT['numeral']) for e in entries]
        self.mode, self.quality = column(lambda e: number('modes', e['mode'])), column(lambda e: number('qualities', e['quality']))
        self.root, self.bass, self.inversion = column(lambda e: e['root']), column(lambda e: e['bass']), column(lambda e: e['inversion'])
        self.target = column(lambda e: e['target'] if e['target'] is not None else 99)
        classes = {}
        self.cls = torch.tensor([classes.setdefault(e[:4], len(classes)) for e in self.entries], device=device)
        self.classes, self.n = len(classes), len(entries)
        # the numerals without inversion, then a new chord and a new key
        sizes = dict(key=2 * PLACES, root=PLACES, bass=PLACES, target=PLACES + 1, quality=QUALITIES, inversion=4, numeral=self.classes)
        self.at, at = {}, 0
        for name in FORMAT['factors'][:-2]: self.at[name] = (at, sizes[name]); at += sizes[name]
        self.factors, self.outputs = at, at + 2
        # pairs: every place of the tonic with every numeral
        tonic = torch.arange(PLACES, device=device)[:, None].expand(PLACES, self.n).reshape(-1)
        entry = torch.arange(self.n, device=device)[None].expand(PLACES, self.n).reshape(-1)
        self.table = torch.zeros(PLACES * self.n, at, device=device)
        rows = torch.arange(PLACES * self.n, device=device)
        for name, where in self.targets(tonic, entry).items(): self.table[rows, self.at[name][0] + where] += 1

    def pairs(self, factors): return factors @ self.table.T

    def targets(self, tonic, entry):
        """Factor classes of labelled verticals: tonic as a place, entry in the vocabulary."""
        place = lambda above: (tonic + above[entry]).clamp(0, PLACES - 1)
        return dict(key=self.mode[entry] * PLACES + tonic, root=place(self.root), bass=place(self.bass),
                    target=torch.where(self.target[entry] == 99, PLACES, place(self.target)),
                    quality=self.quality[entry], inversion=self.inversion[entry], numeral=self.cls[entry])

    def known(self, other):
        """For every pair of another vocabulary the pair here, or the number of pairs where there is none."""
        here = {e: i for i, e in enumerate(self.entries)}
        own = torch.tensor([here.get(e, -1) for e in other.entries], device=self.root.device)
        tonic = torch.arange(PLACES, device=own.device)[:, None]
        return torch.where(own < 0, PLACES * self.n, tonic * self.n + own).reshape(-1)


class SoftLabels:
    """What teachers think of every vertical: the likeliest pairs with their shares, whether a chord and a key are new, and how far the
    teachers agree, 0 to 1."""

    def __init__(self, total):
        self.pairs, self.shares = torch.zeros(total, SOFT, dtype=torch.int32), torch.zeros(total, SOFT, dtype=torch.float16)
        self.new, self.agreement = torch.zeros(total, 2, dtype=torch.float16), torch.zeros(total, dtype=torch.float16)

    def save(self, path): torch.save((self.pairs, self.shares, self.new, self.agreement), path)

    @staticmethod
    def load(paths, device):
        """The sum of parts, each of which is zero where another has something."""
        parts = [torch.load(path) for path in paths]
        soft = SoftLabels(0)
        soft.pairs, soft.shares, soft.new, soft.agreement = (sum(values[1:], values[0]).to(device) for values in zip(*parts))
        return soft
