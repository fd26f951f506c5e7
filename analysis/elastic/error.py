"""TEMPORARY"""
import numpy as np
def energy_error(mesh, material, displacement, stress):
    return np.zeros((len(stress),len(mesh.tets))), np.zeros(len(stress))
