"""The networks: from the features of verticals to factor scores."""
import torch
import torch.nn as nn
import torch.nn.functional as F
from lessons import PLACES, QUALITIES


def pool(h, groups, weight):
    """Means, weighed by duration, of the rows of each group, and the way back to the rows."""
    h, count = h.float(), int(groups.max()) + 1
    at = groups[..., None].expand(-1, -1, h.shape[2])
    sums = torch.zeros(h.shape[0], count, h.shape[2], device=h.device, dtype=h.dtype).scatter_add(1, at, h * weight[..., None])
    norm = torch.zeros(h.shape[0], count, device=h.device, dtype=h.dtype).scatter_add(1, groups, weight)
    return sums / norm.clamp(min=1e-6)[..., None], lambda g: torch.gather(g, 1, groups[..., None].expand(-1, -1, g.shape[2]))


class Whole(nn.Module):
    """Sees the line of fifths as one vector: what the library runs."""

    def __init__(self, width, outputs, front, hidden, dropout, layers, beat, beat_layers):
        super().__init__()
        self.beat = nn.GRU(front, beat, beat_layers, batch_first=True, bidirectional=True, dropout=dropout if beat_layers > 1 else 0)
        self.first = nn.Linear(width, front)
        self.norm = nn.LayerNorm(front)
        self.conv = nn.Conv1d(front, front, 3, padding=1)
        self.gru = nn.GRU(front + 2 * beat, hidden, layers, batch_first=True, bidirectional=True, dropout=dropout if layers > 1 else 0)
        self.last = nn.Linear(2 * hidden, outputs)
        self.drop = nn.Dropout(dropout)

    def forward(self, x, beats, weight):
        h = self.drop(F.relu(self.norm(self.first(x))))
        h = self.drop(h + F.relu(self.conv(h.transpose(1, 2)).transpose(1, 2)))
        means, back = pool(h, beats, weight)
        b, _ = self.beat(means)
        h, _ = self.gru(torch.cat([h, self.drop(back(b))], 2))
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
    recurrent state; places speak to each other through convolutions along the line, and through sums over all of them. A teacher."""

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
        rest = 1 + QUALITIES + 4 + vocabulary.classes + 2
        self.rest = nn.Sequential(nn.Linear(tail * 4, tail * 2), nn.ReLU(), nn.Dropout(dropout), nn.Linear(tail * 2, rest))
        self.drop = nn.Dropout(dropout)

    def forward(self, x, beats, weight):
        b, t, _ = x.shape
        p, edge = self.window, (PLACES - self.window) // 2
        pitch = x[..., :self.planes * PLACES].reshape(b * t, self.planes, PLACES)
        h = self.first(pitch)[..., edge:edge + p].transpose(1, 2).reshape(b, t, p, -1)
        h = self.drop(F.relu(self.norm(h + self.scalars(x[..., self.planes * PLACES:])[:, :, None])))
        padded = F.pad(h, (0, 0, 0, 0, 1, 1))
        h = self.drop(h + F.relu(self.conv(torch.cat([padded[:, :-2], h, padded[:, 2:]], 3))))
        for i, gru in enumerate(self.grus):
            whole = self.whole[i](torch.cat([h.mean(2), h.amax(2)], 2))
            z = self.drop(F.relu(self.norms[i](self.point[i](torch.cat([h, self.along[i](h)], 3)) + whole[:, :, None])))
            if i == 0:
                means, back = pool(z.reshape(b, t, -1), beats, weight)
                n = means.shape[1]
                g, _ = gru(means.view(b, n, p, -1).transpose(1, 2).reshape(b * p, n, -1))
                g = back(g.float().view(b, p, n, -1).transpose(1, 2).reshape(b, n, -1)).view(b, t, p, -1)
            else:
                g, _ = gru(z.transpose(1, 2).reshape(b * p, t, -1))
                g = g.view(b, p, t, -1).transpose(1, 2)
            h = torch.cat([z, self.drop(g).to(z.dtype)], 3)
        f = self.drop(F.relu(self.point[2](torch.cat([h, self.along[2](h)], 3))))
        at = self.places(f)
        share = torch.cat([at[..., 0], at[..., 1]], 2).softmax(2)
        by = lambda w: (w[..., None] * f).sum(2)
        found = [by(share[..., :p] + share[..., p:]), by(at[..., 2].softmax(2)), by(at[..., 3].softmax(2)), f.amax(2)]
        full = F.pad(at, (0, 0, edge, edge), value=-12.)
        return torch.cat([*(full[..., k] for k in range(5)), self.rest(torch.cat(found, 2))], 2)


def build(data, vocabulary, o):
    """The network that options ask for."""
    if o['kind'] == 'places':
        return Places(vocabulary, data.planes, data.width, o['channels'], o['hidden'], o['tail'], o['kernel'], o['window'], o['dropout'])
    return Whole(data.width, vocabulary.outputs, o['front'], o['hidden'], o['dropout'], o['layers'], o['beat'], o['beat_layers'])
