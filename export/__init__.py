"""Every file a person or a machine reads.

Part of casewright.
"""
