"""The proofs of plan.json: values of pieces, for whoever wants to check a lower bound; part of `planner.record`.

In: certificates, and which cross tees border tees come from. Out: plain data. Millimetres.
"""

from typing import Any

from planner.ceiling.model import BorderTees
from planner.pairs.certificate import PairCertificate
from planner.runs.certificate import RunCertificate
from planner.stock.certificate import BarCertificate

Record = dict[str, Any]


def certificate_record(certificate: BarCertificate | RunCertificate) -> Record:
    """Values of pieces, for whoever wants to check the lower bound; whole lengths are not among them."""
    if isinstance(certificate, RunCertificate):
        return _run_certificate(certificate)
    return {
        "pieces": [
            {
                "length_mm": piece.length / 10,
                "count": piece.count,
                "value": piece.value,
                "factory_end": piece.need,
            }
            for piece in certificate.pieces
        ],
        "most_on_a_bar": certificate.most,
        "whole": certificate.whole,
        "bound": certificate.bound,
    }


def _run_certificate(certificate: RunCertificate) -> Record:
    """What a bar is worth that is uncut from a place on, and every way to put the runs together."""
    bar = certificate.bar
    return {
        "slot_pitch_mm": bar.pitch / 10,
        "reuse_from_mm": bar.reuse / 10,
        "most_on_a_bar": certificate.most,
        "worth": [{"from_mm": place / 10, "worth": worth} for place, worth in certificate.steps],
        "runs": [
            {"count": run.count, "ways_mm": [[cut.first / 10, cut.whole, cut.rest / 10] for cut in run.cuts]}
            for run in certificate.runs
        ],
        "single_pieces": [
            {
                "count": single.count,
                "length_mm": single.length / 10,
                "slot_mm": None if single.slot is None else single.slot / 10,
            }
            for single in certificate.singles
        ],
        "bound": certificate.bound,
    }


def border_tees_record(chosen: BorderTees) -> Record:
    """Which cross tees the cut ones come from; costs as the user's prices, or millimetres of tee."""
    shared, parts = chosen.shared, 1000 if chosen.priced else 10
    columns = zip(chosen.items, shared.job.stocks, shared.bought, shared.bought_own, strict=True)
    return {
        "stocks": [
            {"stock": item, "length_mm": stock.length / 10, "cost": stock.cost / parts, "bought": bought, "own": own}
            for item, stock, bought, own in columns
        ],
        "by": "price" if chosen.priced else "length",
        "for_all_rooms": chosen.for_all,
        "from_longer": shared.moved,
        "cost": shared.cost / parts,
        "cost_own": shared.cost_own / parts,
        "lower_bound": shared.lower_bound / parts,
        "proven": shared.proven,
        "certificate": None if shared.certificate is None else _pair_certificate(shared.certificate, chosen, parts),
    }


def _pair_certificate(proof: PairCertificate, chosen: BorderTees, parts: int) -> Record:
    """Values of pieces: what comes from one length is worth no more than so much for each unit of its cost."""
    return {
        "pieces": [
            {
                "length_mm": kind.length / 10,
                "count": kind.count,
                "from": [chosen.items[at] for at in kind.stocks],
                "value": value,
            }
            for kind, value in zip(proof.job.kinds, proof.values, strict=True)
        ],
        "most_for_a_unit": proof.most * parts,
        "bound": proof.bound / parts,
    }
