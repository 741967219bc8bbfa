"""Wishes: what does this idea cost?"""
